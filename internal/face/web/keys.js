// Keys of every page: / goes to the search, u undoes, p pins or takes the pin
// out, [ and ] go to the previous and the next thing of the list one came
// from, ? shows this list. They rest while a field has the focus, and can be
// switched off.
const typing = (el) => el && (el.isContentEditable || /^(INPUT|SELECT|TEXTAREA)$/.test(el.tagName));
const go = (sel) => document.querySelector(sel);
const list = go("details.keys");
const off = go("details.keys input");
if (list) {
  list.hidden = false;
  off.checked = localStorage.getItem("keys") !== "off";
  off.addEventListener("change", () => localStorage.setItem("keys", off.checked ? "on" : "off"));
}

document.addEventListener("keydown", (e) => {
  if (typing(document.activeElement) || e.ctrlKey || e.metaKey || e.altKey || (off && !off.checked)) return;
  if (e.key === "/") {
    const field = go("input[type=search]");
    if (field) { e.preventDefault(); field.focus(); }
  } else if (e.key === "u") {
    go('form[action="/undo"]')?.requestSubmit();
  } else if (e.key === "p") {
    (go('form[action$="/unpin"]') ?? go('tr.best form[action$="/pin"]'))?.requestSubmit();
  } else if (e.key === "[") {
    go("a[rel=prev]")?.click();
  } else if (e.key === "]") {
    go("a[rel=next]")?.click();
  } else if (e.key === "?" && list) {
    list.open = !list.open;
    if (list.open) list.querySelector("summary").focus();
  }
});
