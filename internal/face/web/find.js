// Find as one types: only the rows that say every word stay, accents and case
// aside. Without script the search is a form.
import { fold } from "/fold.js";

const field = document.querySelector("input[type=search][data-finds]");
const table = field && document.querySelector(field.dataset.finds);
const count = document.querySelector("#count");

const said = new WeakMap();
function says(tr) {
  if (!said.has(tr)) {
    const cells = tr.querySelectorAll(".v").length ? tr.querySelectorAll("th, .v") : tr.cells;
    said.set(tr, fold([...[...cells].map((c) => c.textContent), tr.dataset.rest ?? ""].join(" ")));
  }
  return said.get(tr);
}

function filter() {
  const words = fold(field.value).split(/\s+/).filter(Boolean);
  let n = 0, all = 0;
  for (const body of table.tBodies) {
    let here = 0;
    const rows = [...body.rows].filter((tr) => !tr.querySelector("[scope=rowgroup]"));
    for (const tr of rows) {
      tr.hidden = !words.every((w) => says(tr).includes(w));
      here += tr.hidden ? 0 : 1;
    }
    body.hidden = here === 0;
    n += here;
    all += rows.length;
  }
  count.textContent = `${n} of ${all} shown.`;
  table.dispatchEvent(new Event("found"));
}
if (table) field.addEventListener("input", filter);
