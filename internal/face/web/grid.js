// The grid of who is on: arrow keys move from cell to cell, every tick is kept
// at once, and what it changes is drawn anew. Without script the form does the
// same with its button.
const form = document.querySelector("#grid");
const drawn = document.querySelector("#drawn");

function cells() {
  return [...form.querySelectorAll("tbody tr")].map((tr) => [...tr.querySelectorAll("input[type=checkbox]")]);
}

form?.querySelectorAll("[data-some]").forEach((box) => { box.indeterminate = true; });
form?.querySelector(".noscript")?.setAttribute("hidden", "");

form?.addEventListener("keydown", (e) => {
  const step = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0], Home: [0, -1e6], End: [0, 1e6] }[e.key];
  if (!step || e.target.type !== "checkbox") return;
  e.preventDefault();
  const rows = cells();
  const r = rows.findIndex((row) => row.includes(e.target));
  const c = rows[r].indexOf(e.target);
  const row = rows[Math.min(Math.max(r + step[0], 0), rows.length - 1)];
  row[Math.min(Math.max(c + step[1], 0), row.length - 1)].focus();
});

// Ticks wait for each other, so that the last drawing is of the last tick.
let queue = Promise.resolve();
form?.addEventListener("change", (e) => {
  const box = e.target;
  const body = new URLSearchParams({ cell: box.value, drawn: "yes" });
  body.append(box.checked ? "on" : "was", box.value);
  queue = queue.then(async () => {
    const r = await fetch("/who/grid", { method: "POST", body });
    if (!r.ok) {
      box.checked = !box.checked;
      box.setCustomValidity("Not kept. Try again.");
      box.reportValidity();
      return;
    }
    box.setCustomValidity("");
    const was = box.closest("td").querySelector("input[name=was]");
    if (box.checked && !was) {
      const hidden = Object.assign(document.createElement("input"), { type: "hidden", name: "was", value: box.value });
      box.closest("td").append(hidden);
    } else if (!box.checked) {
      was?.remove();
    }
    drawn.innerHTML = await r.text();
  });
});
