// Where the drawing is looked at from: zoom and pan by pinch, wheel, buttons and keys.

const view = { k: 1, x: 0, y: 0, width: 300, height: 300, box: [0, 0, 1, 1], ladder: 112, spacing: 8, margin: null };
/** Room round the wall: for the buttons over it and the grip under it; beside it where the drawing is low. */
const MARGINS = { tall: { top: 64, bottom: 70, right: 14 }, low: { top: 22, bottom: 18, right: 80 } };
const NARROW_LADDER = 42;

const wide = () => view.width >= 600;
view.margin = MARGINS.tall;
/** Room for the ladder: numbers alone where courses lie close on a narrow screen. */
function ladderWidth() {
  return wide() || view.k * view.spacing >= 17 ? view.ladder : NARROW_LADDER;
}

const toX = (x) => (ladderWidth() + view.width - view.margin.right) / 2 + (x - view.x) * view.k;
const toY = (y) => (view.margin.top + view.height - view.margin.bottom) / 2 - (y - view.y) * view.k;
const fromX = (x) => view.x + (x - (ladderWidth() + view.width - view.margin.right) / 2) / view.k;
const fromY = (y) => view.y - (y - (view.margin.top + view.height - view.margin.bottom) / 2) / view.k;

/** What there is to see of a face: left, bottom, right, top. */
function boxOf(face) {
  const points = [...face.outline, ...cladOutline(face)];
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y).concat((face.grade ?? []).map(([, y]) => y));
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

function fitScale() {
  const [left, bottom, right, top] = view.box;
  const ladder = wide() ? view.ladder : NARROW_LADDER;
  const across = (view.width - ladder - view.margin.right) / (right - left);
  return Math.min(across, (view.height - view.margin.top - view.margin.bottom) / (top - bottom));
}

/** Ask for no more height than the whole wall takes on a narrow screen. */
function askHeight() {
  const [left, bottom, right, top] = view.box;
  const across = view.width - NARROW_LADDER - view.margin.right;
  const height = (across * (top - bottom)) / (right - left) + view.margin.top + view.margin.bottom;
  byId("drawing").style.setProperty("--wall", `${height}px`);
}

const zoomed = () => view.k > fitScale() * 1.02;

function fitView() {
  const [left, bottom, right, top] = view.box;
  view.k = fitScale();
  view.x = (left + right) / 2;
  view.y = (bottom + top) / 2;
  paint();
}

function keepInside() {
  const [left, bottom, right, top] = view.box;
  const least = fitScale();
  view.k = Math.min(Math.max(view.k, least), Math.max(least, 60 / DATA.inch));
  if (!zoomed()) [view.x, view.y] = [(left + right) / 2, (bottom + top) / 2];
  view.x = Math.min(Math.max(view.x, left), right);
  view.y = Math.min(Math.max(view.y, bottom), top);
}

/** Zoom about a point of the screen, which stays where it is. */
function zoomBy(factor, x = view.width / 2, y = view.height / 2) {
  const [wallX, wallY] = [fromX(x), fromY(y)];
  view.k *= factor;
  keepInside();
  view.x += wallX - fromX(x);
  view.y += wallY - fromY(y);
  keepInside();
  paint();
}

function panBy(dx, dy) {
  view.x -= dx / view.k;
  view.y += dy / view.k;
  keepInside();
  paint();
}

/** Fingers and mouse on the drawing. A tap is the browser's own click, so that nothing that opens under the finger is clicked too. */
function watchPointers(host, tap) {
  const down = new Map();
  let start = null;
  let dragged = false;
  const spread = () => {
    const [a, b] = [...down.values()];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, apart: Math.hypot(a.x - b.x, a.y - b.y) };
  };
  const place = (event) => {
    const box = host.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  host.addEventListener("pointerdown", (event) => {
    if (event.button > 0) return;
    down.set(event.pointerId, place(event));
    dragged = down.size > 1;
    start = dragged ? null : { ...place(event), moved: false };
  });
  host.addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    const now = place(event);
    if (down.size === 1) {
      if (start && !start.moved && Math.hypot(now.x - start.x, now.y - start.y) < 9) return;
      if (start && !start.moved) host.setPointerCapture(event.pointerId);
      if (start) start.moved = dragged = true;
      if (zoomed()) panBy(now.x - before.x, now.y - before.y);
      down.set(event.pointerId, now);
      return;
    }
    const old = spread();
    down.set(event.pointerId, now);
    const next = spread();
    if (old.apart > 0) zoomBy(next.apart / old.apart, next.x, next.y);
    panBy(next.x - old.x, next.y - old.y);
  });
  const up = (event) => {
    if (!down.delete(event.pointerId)) return;
    start = null;
  };
  host.addEventListener("pointerup", up);
  host.addEventListener("pointercancel", up);
  host.addEventListener("click", (event) => {
    const { x, y } = place(event);
    if (!dragged) tap(x, y);
  });
  host.addEventListener(
    "wheel",
    (event) => {
      event.preventDefault();
      const { x, y } = place(event);
      zoomBy(Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0016)), x, y);
    },
    { passive: false },
  );
}

const KEYS = {
  ArrowLeft: () => panBy(60, 0),
  ArrowRight: () => panBy(-60, 0),
  ArrowUp: () => panBy(0, 60),
  ArrowDown: () => panBy(0, -60),
  "+": () => zoomBy(1.5),
  "=": () => zoomBy(1.5),
  "-": () => zoomBy(1 / 1.5),
  0: fitView,
  Home: fitView,
};

function watchKeys(host) {
  host.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !Object.hasOwn(KEYS, event.key)) return;
    event.preventDefault();
    KEYS[event.key]();
  });
}
