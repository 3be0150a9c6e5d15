// A lay made by hand: parts are dragged, or moved with the arrow keys; the
// fields of the form below say the same and are what is sent.
const board = document.querySelector("#board");
const form = document.querySelector("#byhand");
const factor = Number(board?.dataset.factor);

const read = (s) => s.trim().split(/\s+/).map((p) => p.split(",").map(Number));
const edge = board ? read(board.dataset.edge) : [];
const flaws = board ? [...board.querySelectorAll(".flaw")].map((f) => read(f.getAttribute("points"))) : [];

// A point of the outline turned by degrees counter-clockwise, then the box put
// back to the origin.
function turned(points, degrees) {
  const a = (degrees * Math.PI) / 180;
  const t = points.map(([x, y]) => [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)]);
  const x0 = Math.min(...t.map((p) => p[0])), y0 = Math.min(...t.map((p) => p[1]));
  return t.map(([x, y]) => [x - x0, y - y0]);
}

const parts = board ? [...board.querySelectorAll("g.part")].map((g) => {
  const n = g.dataset.n;
  const field = (name) => form.elements[name + n];
  return { g, n, base: read(g.dataset.points), x: field("x"), y: field("y"), turn: field("turn"), pin: field("pin") };
}) : [];

const lies = (p) => turned(p.base, Number(p.turn.value)).map(([x, y]) => [x + Number(p.x.value.replace(",", ".")) * factor, y + Number(p.y.value.replace(",", ".")) * factor]);

const side = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
const eps = 1; // square millimetres: touching is no overlap

function cross(a, b, c, d) {
  const s1 = side(a, b, c), s2 = side(a, b, d), s3 = side(c, d, a), s4 = side(c, d, b);
  return ((s1 > eps && s2 < -eps) || (s1 < -eps && s2 > eps)) && ((s3 > eps && s4 < -eps) || (s3 < -eps && s4 > eps));
}

function holds(poly, [x, y]) {
  let odd = false;
  poly.forEach(([x1, y1], i) => {
    const [x2, y2] = poly[(i + 1) % poly.length];
    if ((y1 > y) !== (y2 > y) && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) odd = !odd;
  });
  return odd;
}

const middle = (poly) => [poly.reduce((s, p) => s + p[0], 0) / poly.length, poly.reduce((s, p) => s + p[1], 0) / poly.length];
// A little smaller, by .3 mm: what only touches may be a hair over by rounding.
const inward = (poly) => {
  const m = middle(poly);
  return poly.map(([x, y]) => { const d = Math.hypot(m[0] - x, m[1] - y) || 1; return [x + ((m[0] - x) * 0.3) / d, y + ((m[1] - y) * 0.3) / d]; });
};
const meet = (a, b) => a.some((p, i) => b.some((q, k) => cross(p, a[(i + 1) % a.length], q, b[(k + 1) % b.length])));
const over = (a, b) => {
  const [s, t] = [inward(a), inward(b)];
  return meet(s, t) || s.some((p) => holds(t, p)) || t.some((p) => holds(s, p));
};
const off = (a) => { const s = inward(a); return meet(s, edge) || s.some((p) => !holds(edge, p)); };

function draw() {
  const where = parts.map(lies);
  let wrong = 0;
  parts.forEach((p, i) => {
    const bad = off(where[i]) || flaws.some((f) => over(where[i], f)) || where.some((w, k) => k !== i && over(where[i], w));
    if (bad) wrong += 1;
    p.g.querySelector("polygon").setAttribute("points", where[i].map((q) => q.join(",")).join(" "));
    const m = middle(where[i]);
    const text = p.g.querySelector("text");
    text.setAttribute("x", m[0]);
    text.setAttribute("y", m[1]);
    p.g.classList.toggle("bad", bad);
    p.g.classList.toggle("pinned", p.pin.checked);
    p.g.setAttribute("aria-label", `${p.g.dataset.name}, ${p.x.value} from the left, ${p.y.value} from the top${bad ? ", cannot lie there" : ""}${p.pin.checked ? ", pinned" : ""}`);
  });
  document.querySelector("#how").textContent = wrong ? `${wrong} cannot lie where they are.` : "All lie clear of one another.";
}

function move(p, dx, dy) {
  const at = (f, d) => { f.value = String(Math.round(((Number(f.value.replace(",", ".")) * factor + d) / factor) * 10) / 10); };
  at(p.x, dx);
  at(p.y, dy);
  p.pin.checked = true;
  draw();
}

function turn(p) {
  const all = [...p.turn.options];
  p.turn.selectedIndex = (p.turn.selectedIndex + 1) % all.length;
  p.pin.checked = true;
  draw();
}

for (const p of parts) {
  p.g.addEventListener("keydown", (e) => {
    const step = e.shiftKey ? factor / 10 : factor;
    const d = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[e.key];
    if (d) { e.preventDefault(); move(p, ...d); }
    if (e.key === "r") { e.preventDefault(); turn(p); }
    if (e.key === "p") { e.preventDefault(); p.pin.checked = !p.pin.checked; draw(); }
  });
  p.g.addEventListener("pointerdown", (e) => {
    e.preventDefault();
    p.g.focus();
    p.g.setPointerCapture(e.pointerId);
    const scale = board.viewBox.baseVal.width / board.getBoundingClientRect().width;
    let last = [e.clientX, e.clientY];
    const drag = (m) => {
      move(p, (m.clientX - last[0]) * scale, (m.clientY - last[1]) * scale);
      last = [m.clientX, m.clientY];
    };
    p.g.addEventListener("pointermove", drag);
    const stop = () => p.g.removeEventListener("pointermove", drag);
    p.g.addEventListener("pointerup", stop, { once: true });
    p.g.addEventListener("pointercancel", stop, { once: true });
  });
}
if (board) {
  form.addEventListener("input", draw);
  document.querySelector("#keyshow").hidden = false;
  draw();
}
