// Keys of every page: / goes to the search, u undoes, [ and ] go to the
// previous and the next thing of the list one came from. They rest while a
// field has the focus.
const typing = (el) => el && (el.isContentEditable || /^(INPUT|SELECT|TEXTAREA)$/.test(el.tagName));

document.addEventListener("keydown", (e) => {
  if (typing(document.activeElement) || e.ctrlKey || e.metaKey || e.altKey) return;
  const go = (sel) => document.querySelector(sel);
  if (e.key === "/") {
    const field = go("input[type=search]");
    if (field) { e.preventDefault(); field.focus(); }
  } else if (e.key === "u") {
    go('form[action="/undo"]')?.requestSubmit();
  } else if (e.key === "[") {
    go("a[rel=prev]")?.click();
  } else if (e.key === "]") {
    go("a[rel=next]")?.click();
  }
});
