// Marks on a picture: dragged, set by a tap, or moved by the arrow keys. Without
// script they are written as figures.
const svg = document.querySelector("svg.trace");
const where = document.querySelector("#where");
const marks = () => [...svg.querySelectorAll(".mark")];
const kind = (m) => m.dataset.key[0];
const field = (m, axis) => document.querySelector(`#marks [name="${m.dataset.key}${axis}"]`);
const round = (v) => Math.round(v * 10) / 10;
const at = (m) => { const c = m.querySelector(".dot"); return [Number(c.getAttribute("cx")), Number(c.getAttribute("cy"))]; };
const seen = svg.viewBox.baseVal;
let last = null; // the mark that was held last

function name(m) {
  const [x, y] = at(m);
  return `${m.dataset.label}, ${Math.round(x)} across, ${Math.round(y)} down`;
}

// put moves a mark and all that follows it: lines, figures, its name.
function put(m, x, y) {
  x = round(Math.min(Math.max(x, 0), seen.width));
  y = round(Math.min(Math.max(y, 0), seen.height));
  for (const c of m.querySelectorAll("circle")) {
    c.setAttribute("cx", x);
    c.setAttribute("cy", y);
  }
  if (field(m, "x")) {
    field(m, "x").value = x;
    field(m, "y").value = y;
  }
  redraw(kind(m));
  m.setAttribute("aria-label", name(m));
}

function redraw(of) {
  if (of === "p") return;
  if (of === "f") { boxes(); return; }
  const text = marks().filter((m) => kind(m) === of).map((m) => at(m).join(",")).join(" ");
  for (const line of svg.querySelectorAll(`polygon[data-of="${of}"]`)) line.setAttribute("points", text);
  const box = document.querySelector("#keep [name=outline]");
  if (of === "o" && box) box.value = text;
}

// boxes draws every flaw between its two corners, and writes them down.
function boxes() {
  const lines = [];
  const drawn = new Set();
  for (const m of marks().filter((m) => kind(m) === "f" && m.dataset.key.endsWith("a"))) {
    const key = m.dataset.key.slice(0, -1);
    const [ax, ay] = at(m);
    const [bx, by] = at(svg.querySelector(`[data-key="${key}b"]`));
    drawn.add(key);
    lines.push(`${ax},${ay} ${bx},${by}`);
    for (const r of svg.querySelectorAll(`rect[data-of="${key}"]`)) {
      r.setAttribute("x", Math.min(ax, bx));
      r.setAttribute("y", Math.min(ay, by));
      r.setAttribute("width", Math.abs(ax - bx));
      r.setAttribute("height", Math.abs(ay - by));
    }
  }
  for (const r of svg.querySelectorAll("#boxes rect")) if (!drawn.has(r.dataset.of)) r.remove();
  for (const f of document.querySelectorAll("[name=flaws]")) f.value = lines.join("\n");
}

function part(tag, set, into) {
  const e = document.createElementNS(svg.namespaceURI, tag);
  for (const k in set) e.setAttribute(k, set[k]);
  into.append(e);
  return e;
}

// another sets a new box in the middle of the picture, to be dragged.
function another() {
  const of = marks().filter((m) => kind(m) === "f").map((m) => parseInt(m.dataset.key.slice(1), 10));
  const n = Math.max(0, ...of) + 1;
  for (const line of ["halo", "edge"]) part("rect", { class: line, "data-of": `f${n}` }, svg.querySelector("#boxes"));
  const made = [[0.45, "a", 1], [0.55, "b", 2]].map(([share, end, corner]) => {
    const m = part("g", { class: "mark small", "data-key": `f${n}${end}`, "data-label": `flaw ${n}, corner ${corner}` }, svg);
    for (const c of ["reach", "dot"]) part("circle", { class: c, cx: round(seen.width * share), cy: round(seen.height * share) }, m);
    return m;
  });
  made.forEach(ready);
  size();
  boxes();
  hold(made[0]);
  where.textContent = `A box for flaw ${n}: drag its two corners.`;
}

// size keeps marks as large as a finger, or as a pointer needs, whatever the
// width of the page.
function size() {
  const k = seen.width / (svg.getBoundingClientRect().width || seen.width);
  for (const m of marks()) {
    const small = m.classList.contains("small");
    m.querySelector(".reach").setAttribute("r", (small ? 12 : 22) * k);
    m.querySelector(".dot").setAttribute("r", (small ? 4 : 7) * k);
  }
  svg.style.setProperty("--px", k);
}

function place(e) {
  const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
  return [p.x, p.y];
}

function hold(m) {
  last = m;
  m.focus({ preventScroll: true });
}

function take(m, e) {
  e.preventDefault();
  e.stopPropagation();
  hold(m);
  const [x, y] = at(m);
  const [px, py] = place(e);
  const follow = (f) => { const [qx, qy] = place(f); put(m, x + qx - px, y + qy - py); };
  m.setPointerCapture(e.pointerId);
  m.addEventListener("pointermove", follow);
  m.addEventListener("lostpointercapture", () => { m.removeEventListener("pointermove", follow); where.textContent = name(m); }, { once: true });
}

const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function key(m, e) {
  if (e.key === "Delete" && kind(m) === "f") {
    const n = m.dataset.key.slice(0, -1);
    for (const end of "ab") svg.querySelector(`[data-key="${n}${end}"]`).remove();
    boxes();
    where.textContent = "The flaw is taken out.";
    last = null;
    document.querySelector("#flaw").focus();
    e.preventDefault();
    return;
  }
  if (e.key === "Delete" && kind(m) === "o") {
    const all = marks().filter((o) => kind(o) === "o");
    if (all.length <= 3) { where.textContent = "Three corners are the least."; return; }
    const next = all[(all.indexOf(m) + 1) % all.length];
    where.textContent = `${m.dataset.label} is taken out.`;
    m.remove();
    redraw("o");
    hold(next);
    e.preventDefault();
    return;
  }
  const way = ways[e.key];
  if (!way || e.ctrlKey || e.metaKey || e.altKey) return;
  e.preventDefault();
  const step = e.shiftKey ? 10 : 1;
  const [x, y] = at(m);
  put(m, x + step * way[0], y + step * way[1]);
  where.textContent = name(m);
}

function ready(m) {
  m.setAttribute("tabindex", "0");
  m.setAttribute("role", "button");
  m.setAttribute("aria-describedby", "how");
  m.setAttribute("aria-label", name(m));
  m.addEventListener("pointerdown", (e) => take(m, e));
  m.addEventListener("keydown", (e) => key(m, e));
  m.addEventListener("focus", () => { last = m; });
  for (const axis of ["x", "y"]) field(m, axis)?.addEventListener("change", () => put(m, Number(field(m, "x").value.replace(",", ".")), Number(field(m, "y").value.replace(",", "."))));
}

// A tap on the picture sets the mark that is held, and the next one is held.
svg.addEventListener("click", (e) => {
  if (e.target.closest(".mark")) return;
  const all = marks().filter((m) => kind(m) !== "o");
  const m = last && kind(last) !== "o" ? last : all.find((m) => kind(m) !== "f");
  put(m, ...place(e));
  where.textContent = name(m);
  hold(all[(all.indexOf(m) + 1) % all.length]);
});

marks().forEach(ready);
const more = document.querySelector("#flaw");
if (more) {
  more.hidden = false;
  more.addEventListener("click", another);
}
size();
addEventListener("resize", size);
