// The drawing of a face: the wall to scale under the view, and lettering that stays large on top of it.

const path = (points) => `M${points.map(([x, y]) => `${x} ${-y}`).join("L")}Z`;
const boundsOf = (points) => {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
};

const pen = document.createElement("canvas").getContext("2d");
const widths = new Map();
/** Width of the widest of some heights in the ladder, heavy ones included. */
function widest(texts) {
  let most = 0;
  for (const one of texts) {
    if (!widths.has(one)) widths.set(one, pen.measureText(one).width);
    most = Math.max(most, widths.get(one));
  }
  return most;
}

let wall = null;
let letters = {};
let hatch = null;

const across = (y, from, to) => `M${from} ${-y}H${to}`;
const band = ({ foot, head }, left, right) => `M${left} ${-head}H${right}V${-foot}H${left}Z`;

/** The line of a course on its face: level, or from one corner to the other. */
const butt = (course, left, right) =>
  course.ends ? `M${left} ${-course.ends[0]}L${right} ${-course.ends[1]}` : course.butt >= course.foot - 1e-6 ? across(course.butt, left, right) : "";

/** Steps that a panel shows between its butt lines. */
function steps(course, left, right) {
  const count = DATA.sets[course.set].panelFaces;
  const heights = Array.from({ length: count - 1 }, (_, step) => course.butt + ((course.next - course.butt) * (step + 1)) / count);
  return heights.filter((y) => y > course.foot && y < course.head).map((y) => across(y, left, right)).join("");
}

const holeShapes = (opening, picked) => [
  shape("path", { class: "trim", d: path(opening.trimmed) }),
  shape("path", { class: `hole ${opening.kind.includes("door") ? "door" : ""}`, d: path(opening.hole) }),
  picked ? shape("path", { class: "ring", d: path(opening.trimmed) }) : null,
];

/** Lay the wall out anew: another face, other lines, other ticks. */
function layWall() {
  const face = faceNow();
  const whole = !zoomed();
  view.box = boxOf(face);
  const clad = cladOutline(face);
  const [left, , right] = boundsOf(clad);
  const courses = coursesOf(face);
  view.spacing = Math.min(...face.zones.flatMap((zone) => linesOf(zone.set).bands.map(([, exposure]) => exposure)));
  view.ladder = 66 + widest(courses.map(({ reading }) => reading));
  const picked = state.picked ?? {};
  const chosen = courses.find((course) => course.set === picked.set && course.number === picked.course);
  const past = (right - left) * 0.015;
  const [, low, , high] = view.box;
  redraw(wall, [
    shape("clipPath", { id: "clad" }, shape("path", { d: path(clad) })),
    shape("g", { "clip-path": "url(#clad)" },
      shape("path", { class: "siding", d: path(clad) }),
      shape("path", { class: "up", d: courses.filter(({ set, number }) => isUp(face, set, number)).map((course) => band(course, left, right)).join("") }),
      shape("path", { class: "face", d: courses.map((course) => steps(course, left, right)).join("") }),
      shape("path", { class: "butt", d: courses.map((course) => butt(course, left, right)).join("") }),
      chosen ? shape("path", { class: "chosen", d: band(chosen, left, right) }) : null,
    ),
    ...face.zones.flatMap((zone) => zone.boards.map((board) => shape("path", { class: "board", d: path(board) }))),
    shape("path", { class: "outline", d: path(face.outline) }),
    ...face.roofs.map(({ outline }) => shape("path", { class: "roof", d: path(outline) })),
    shape("path", { class: "seam", d: faceMoved(face) ? "" : face.seams.map(([x, y0, y1]) => `M${x} ${-y0}V${-y1}`).join("") }),
    ...face.openings.flatMap((opening, number) => holeShapes(opening, picked.opening === number)).filter(Boolean),
    ...face.fixtures.map(({ box }, number) =>
      shape("path", {
        class: picked.fixture === number ? "fixture ring" : "fixture",
        d: `M${box[0]} ${-box[1]}H${box[2]}V${-box[3]}H${box[0]}ZM${box[0]} ${-box[1]}L${box[2]} ${-box[3]}M${box[2]} ${-box[1]}L${box[0]} ${-box[3]}`,
      }),
    ),
    ...(face.grade ? [shape("path", { class: "ground", d: `M${[
      [left - past, face.grade[0][1]], ...face.grade.slice(1, -1), [right + past, face.grade.at(-1)[1]],
    ].map(([x, y]) => `${x} ${-y}`).join("L")}` })] : []),
    ...(low <= 0 && high >= 0 ? [shape("path", { class: "datum", d: across(0, left - past, right + past) })] : []),
    shape("path", { class: "starter", d: face.zones.map((zone) => across(linesOf(zone.set).starter, left - past, right + past)).join("") }),
  ]);
  if (whole) fitView();
  else paint();
}

let waiting = false;
/** Put the wall and the lettering where the view wants them, once a frame. */
function paint() {
  keepView();
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    paintNow();
  });
}

function paintNow() {
  const face = faceNow();
  wall.setAttribute("transform", `translate(${toX(0)} ${toY(0)}) scale(${view.k})`);
  hatch.setAttribute("patternTransform", `scale(${1 / view.k}) rotate(45)`);
  byId("drawing").classList.toggle("zoomed", zoomed());
  redraw(letters.ladder, ladder(face));
  redraw(letters.signs, edgeSigns(face));
  redraw(letters.marks, openingLetters(face));
  redraw(letters.grips, grips(face));
}

/** The courses at the left: numbers with their heights where they have room, and a rung at every butt line. */
function ladder(face) {
  const room = ladderWidth();
  const heights = room > 60;
  const courses = coursesOf(face);
  const rungs = { plain: "", heavy: "", tick: "" };
  const labels = [];
  for (const zone of face.zones) {
    const mine = courses.filter((course) => course.set === zone.set);
    const spacing = Math.min(...linesOf(zone.set).bands.map(([, exposure]) => exposure)) * view.k;
    const every = [1, 5, 10, 20, 50].find((step) => step * spacing >= 17) ?? 100;
    const base = toY(mine[0]?.butt ?? 0);
    for (const { number, butt, set, foot, name, reading } of mine) {
      const y = toY(Math.max(butt, foot));
      if (y < 8 || y > view.height - 4) continue;
      const fifth = number % 5 === 0;
      const first = number === 1;
      rungs[fifth ? "heavy" : "plain"] += `M${room - 6 - (fifth ? 12 : 6)} ${y}H${room - 2}`;
      if (spacing >= 12 && isUp(face, set, number)) rungs.tick += `M${room - 4} ${y - spacing / 2}l3 3 6 -8`;
      if (!first && (number % every !== 0 || base - y < 16)) continue;
      const style = first ? "label first" : fifth ? "label heavy" : "label";
      labels.push(shape("text", { class: style, x: 4, y: y - 2.5 }, name));
      if (heights) labels.push(shape("text", { class: `${style} end`, x: room - 20, y: y - 2.5 }, reading));
    }
  }
  return [
    shape("rect", { class: "ground-strip", x: 0, y: 0, width: room - 6, height: view.height }),
    shape("path", { class: "rung", d: rungs.plain }),
    shape("path", { class: "rung heavy", d: rungs.heavy }),
    shape("path", { class: "tick", d: rungs.tick }),
    ...labels,
  ];
}

function openingLetters(face) {
  const found = [];
  const letter = (points, text) => {
    const [left, bottom, right, top] = boundsOf(points);
    const small = (right - left) * view.k < 13 + text.length * 4 || (top - bottom) * view.k < 30;
    const y = small ? toY(top) - 5 : toY((bottom + top) / 2) + 5;
    found.push(shape("text", { class: "mark", x: toX((left + right) / 2), y }, text));
  };
  for (const { hole, mark } of face.openings) letter(hole, mark);
  for (const { outline, mark } of face.roofs) letter(outline, mark);
  for (const { box, mark } of face.fixtures) {
    if ((box[3] - box[1]) * view.k >= 10) letter([[box[0], box[1]], [box[2], box[3]]], mark);
  }
  return found;
}

/** The sign of every edge: inside its opening, under the head and over the sill; at eaves, bases and roofs off the siding. */
function edgeSigns(face) {
  const changed = new Set(changesOf(face).map(({ edge }) => edge.target));
  return edgesOf(face).map(({ target, result }) => {
    const hole = target.opening === null ? null : boundsOf(face.openings[target.opening].hole);
    const low = hole === null ? !["base", "over roof"].includes(target.kind) : target.kind === "sill";
    const room = hole === null ? Infinity : Math.min((hole[2] - hole[0]) * view.k, (hole[3] - hole[1]) * view.k);
    const size = Math.max(0.5, Math.min(1, room / 30));
    const edgeY = hole === null ? toY(target.height) : toY(low ? hole[1] : hole[3]);
    const x = toX((target.left + target.right) / 2);
    const y = edgeY + (low ? -8 : 8) * size;
    return shape(
      "g",
      { transform: `translate(${x} ${y}) scale(${size}) translate(-10 -5)`, class: target.importance === "ignore" ? "faint" : null },
      signShape(result),
      changed.has(target) ? shape("rect", { class: "changed", x: -2, y: -2.5, width: 24, height: 15, rx: 2 }) : null,
    );
  });
}

/** A grip under every starter line that can be moved. */
function grips(face) {
  const found = [];
  face.zones.forEach((zone, index) => {
    const set = DATA.sets[zone.set];
    if (set.marks < 2) return;
    const y = toY(linesOf(zone.set).starter);
    if (y < 0 || y > view.height) return;
    const x = view.width - 74 - index * 60;
    found.push(
      shape(
        "g",
        { class: "grip", transform: `translate(${x} ${Math.min(y + 8, view.height - 52)})`, "data-set": zone.set },
        shape("rect", { width: 60, height: 48, rx: 8 }),
        shape("path", { d: "M30 7l9 11h-18zM30 41l9 -11h-18z" }),
      ),
    );
  });
  return found;
}

/** Dragging a grip: one mark of the tape for every 10 px, or as the finger goes when a mark is larger. */
function watchGrips(host) {
  let held = null;
  let gripped = false;
  // A thumb on a grip and two fingers never scroll the page: a browser that scrolls takes the fingers away.
  const hold = (event) => {
    if (event.touches.length > 1 || event.target.closest(".grip")) event.preventDefault();
  };
  host.addEventListener("touchstart", hold, { passive: false });
  const move = (event) => {
    if (!held || event.pointerId !== held.id) return;
    event.stopPropagation();
    const marks = Math.round((held.y - event.clientY) / Math.max(10, DATA.mark * view.k));
    moveStarter(held.set, held.mark + marks, true);
  };
  host.addEventListener(
    "pointerdown",
    (event) => {
      const grip = event.target.closest(".grip");
      gripped = grip !== null;
      if (!grip) return;
      event.stopPropagation();
      event.preventDefault();
      const set = Number(grip.dataset.set);
      held = { id: event.pointerId, y: event.clientY, set, mark: markNow(set), row: rowNow(set) };
      host.setPointerCapture(event.pointerId);
    },
    true,
  );
  host.addEventListener("pointermove", move, true);
  host.addEventListener("click", (event) => gripped && event.stopPropagation(), true); // letting go is no tap
  for (const name of ["pointerup", "pointercancel"]) {
    host.addEventListener(
      name,
      (event) => {
        if (!held || event.pointerId !== held.id) return;
        event.stopPropagation();
        if (rowNow(held.set) !== held.row) linesMoved(held.set);
        held = null;
      },
      true,
    );
  }
}

/** What lies under a tap: the nearest opening within a thumb's reach, else a fixture, else the course. */
function tapped(x, y) {
  const face = faceNow();
  if (x > ladderWidth() - 4) {
    const reach = (points) => {
      const [left, bottom, right, top] = boundsOf(points);
      const [midX, midY] = [toX((left + right) / 2), toY((bottom + top) / 2)];
      const [halfX, halfY] = [Math.max(22, ((right - left) * view.k) / 2), Math.max(22, ((top - bottom) * view.k) / 2)];
      const inside = Math.abs(x - midX) <= halfX && Math.abs(y - midY) <= halfY;
      return inside ? Math.hypot((x - midX) / halfX, (y - midY) / halfY) : Infinity;
    };
    const nearest = (all) => {
      const away = all.map(reach);
      const least = Math.min(...away);
      return least === Infinity ? -1 : away.indexOf(least);
    };
    const opening = nearest(face.openings.map((one) => one.trimmed));
    if (opening >= 0) return { opening };
    const fixture = nearest(face.fixtures.map(({ box }) => [[box[0], box[1]], [box[2], box[3]]]));
    if (fixture >= 0) return { fixture };
  }
  const height = fromY(y);
  const courses = coursesOf(face);
  const at = courses.find((course) => height >= course.foot && height < course.head);
  return at ? { set: at.set, course: at.number } : null;
}

function startDrawing() {
  const host = byId("drawing");
  pen.font = `700 14px ${getComputedStyle(document.body).fontFamily}`;
  hatch = draw("pattern", { id: "hung", width: 9, height: 9, patternUnits: "userSpaceOnUse" }, draw("rect", { width: 2.2, height: 9 }));
  wall = draw("g", { class: "wall" });
  letters = Object.fromEntries(["ladder", "signs", "marks", "grips"].map((name) => [name, draw("g")]));
  host.append(draw("svg", { "aria-hidden": "true", focusable: "false" }, draw("defs", null, hatch), wall, draw("g", { class: "letters" }, Object.values(letters))));
  watchGrips(host);
  watchPointers(host, (x, y) => {
    const found = tapped(x, y);
    if (found) open(found);
  });
  watchKeys(host);
  new ResizeObserver(() => {
    const whole = !zoomed();
    [view.width, view.height] = [host.clientWidth, host.clientHeight];
    view.margin = window.matchMedia("(min-width: 43em) and (max-height: 35em)").matches ? MARGINS.low : MARGINS.tall;
    askHeight();
    if (whole) fitView();
    else zoomBy(1);
  }).observe(host);
}
