// A list as a table one can write in: a cell is opened, written and kept with
// the keyboard. Without script each row has a page.
const form = document.querySelector("#list");
const table = form?.querySelector("table.written");

// Cell by cell: one of them at a time is in the order of Tab.
const cellsOf = (tr) => [...tr.querySelectorAll("td[data-key]")];
const rowsShown = () => [...table.tBodies[0].rows].filter((tr) => !tr.hidden);

function restIn(td) {
  const was = table.querySelector("td[tabindex='0']");
  td ??= was && !was.closest("tr").hidden ? was : rowsShown().flatMap(cellsOf)[0];
  table.querySelectorAll("td[tabindex='0']").forEach((c) => { c.tabIndex = -1; });
  if (td) td.tabIndex = 0;
}

function go(td) {
  if (!td) return;
  restIn(td);
  td.focus();
}

function beside(td, down, right) {
  const rows = rowsShown();
  const r = rows.indexOf(td.closest("tr"));
  const row = rows[Math.min(Math.max(r + down, 0), rows.length - 1)];
  const all = cellsOf(row);
  return all[Math.min(Math.max(cellsOf(td.closest("tr")).indexOf(td) + right, 0), all.length - 1)];
}

const words = (td) => td.querySelector(".v").textContent;

function open(td, first) {
  const label = table.tHead.rows[0].cells[td.cellIndex].textContent;
  const field = Object.assign(document.createElement("input"), { value: first ?? words(td), autocomplete: "off", className: "open" });
  field.setAttribute("aria-label", `${label} of ${td.closest("tr").dataset.code}`);
  if (document.getElementById(`c-${td.dataset.key}`)) field.setAttribute("list", `c-${td.dataset.key}`);
  td.append(field);
  td.classList.add("opened");
  field.focus();
  if (first === undefined) field.select();
}

function close(td) {
  td.querySelector("input.open")?.remove();
  td.querySelector(".fault")?.remove();
  td.classList.remove("opened");
}

function refuse(td, what) {
  const field = td.querySelector("input.open");
  let line = td.querySelector(".fault");
  if (!line) {
    line = Object.assign(document.createElement("span"), { className: "fault", id: `e-${td.closest("tr").rowIndex}-${td.cellIndex}` });
    line.setAttribute("role", "alert");
    td.append(line);
  }
  line.textContent = what;
  field.setAttribute("aria-invalid", "true");
  field.setAttribute("aria-describedby", line.id);
}

let busy = false;
// keep sends an open cell and says whether it was taken; then is where the
// focus goes.
async function keep(td, then) {
  const field = td.querySelector("input.open");
  if (!field || busy) return;
  if (field.value.trim() === words(td)) {
    const to = then && (then(td) ?? td);
    close(td);
    if (to) go(to);
    return;
  }
  const tr = td.closest("tr");
  const body = new URLSearchParams({ cell: td.dataset.key, [td.dataset.key]: field.value });
  busy = true;
  field.readOnly = true;
  let answer = { fault: "Not kept: the program does not answer. What you typed is still here." };
  try {
    const r = await fetch(`/edit/${encodeURIComponent(form.dataset.kind)}/${encodeURIComponent(tr.dataset.code)}${location.search}`, { method: "POST", body });
    answer = await r.json();
  } catch { /* the words above stand */ }
  busy = false;
  field.readOnly = false;
  if (answer.fault) {
    refuse(td, answer.fault);
    field.focus();
    return;
  }
  renew(tr, td, answer, then);
}

// renew puts the row as it now stands in the place of the one written in.
function renew(tr, td, answer, then) {
  const fresh = document.createElement("tbody");
  fresh.innerHTML = answer.row;
  const row = fresh.rows[0];
  document.querySelector(".undo").innerHTML = answer.undo;
  if (!row) { location.reload(); return; }
  const at = cellsOf(tr).indexOf(td);
  row.querySelector("[name=row]").checked = tr.querySelector("[name=row]").checked;
  const held = tr.contains(document.activeElement);
  tr.replaceWith(row);
  prepare(row);
  const here = cellsOf(row)[at];
  if (then) go(then(here) ?? here);
  else if (held) go(here);
  else restIn();
}

function prepare(tr) {
  for (const td of cellsOf(tr)) td.tabIndex = -1;
}

const steps = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0], Home: [0, -1e6], End: [0, 1e6] };

function typing(e) { // in an open cell
  const td = e.target.closest("td");
  if (e.key === "Enter") {
    e.preventDefault();
    keep(td, (c) => c);
  } else if (e.key === "Escape") {
    e.preventDefault();
    close(td);
    go(td);
  } else if (e.key === "Tab") {
    e.preventDefault();
    keep(td, (c) => beside(c, 0, e.shiftKey ? -1 : 1));
  }
}

if (table && form.dataset.kind) {
  table.setAttribute("role", "grid");
  document.querySelector(".how").hidden = false;
  for (const tr of table.tBodies[0].rows) prepare(tr);
  restIn();
  table.addEventListener("found", () => { restIn(); ticked(); });

  // How many are ticked, and a tick for all that are shown.
  const every = table.querySelector("[data-every]");
  every.hidden = false;
  every.querySelector("input").addEventListener("change", (e) => {
    for (const tr of rowsShown()) tr.querySelector("[name=row]").checked = e.target.checked;
  });
  const ticked = () => {
    const on = [...table.querySelectorAll("[name=row]:checked")];
    const out = on.filter((box) => box.closest("tr").hidden).length;
    document.querySelector("#ticked").textContent = on.length ? `${on.length} ticked${out ? `, ${out} of them not shown` : ""}.` : "";
  };
  table.addEventListener("change", ticked);
  ticked();

  table.addEventListener("keydown", (e) => {
    if (e.target.matches("input.open")) { typing(e); return; }
    const td = e.target;
    if (!td.matches("td[data-key]") || e.ctrlKey || e.metaKey || e.altKey) return;
    if (steps[e.key]) {
      e.preventDefault();
      go(beside(td, ...steps[e.key]));
    } else if (e.key === "Enter" || e.key === "F2") {
      e.preventDefault();
      open(td);
    } else if (/^[0-9]$/.test(e.key)) {
      open(td, ""); // the figure itself goes into the field
    }
  });

  // Enter in an open cell keeps that cell, never the whole form.
  form.addEventListener("submit", (e) => { if (document.activeElement?.matches("input.open")) e.preventDefault(); });

  // A second click on a cell opens it.
  let held = null;
  table.addEventListener("pointerdown", (e) => { held = document.activeElement; });
  table.addEventListener("click", (e) => {
    const td = e.target.closest("td[data-key]");
    if (!td || e.target.matches("input.open")) return;
    if (held === td && !td.querySelector("input.open")) open(td);
    else if (!td.querySelector("input.open")) go(td);
  });

  // What was typed is kept when one goes elsewhere.
  table.addEventListener("focusout", (e) => {
    if (!e.target.matches("input.open") || !document.hasFocus()) return;
    const td = e.target.closest("td");
    setTimeout(() => { if (td.isConnected && !td.contains(document.activeElement)) keep(td); });
  });
}
