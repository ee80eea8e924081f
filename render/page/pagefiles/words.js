// The crew's words, as on the sheets (render/words/plan_words.py).

const SUBJECTS = {
  head: "head", sill: "sill", eave: "Eave", "eave left": "Eave, left end", "eave right": "Eave, right end",
  step: "Base step", band: "Band board",
};
const RANKS = { sliver: 0, notch: 1, flush: 2 };
const IMPORTANCE = { must: 0, want: 1, ignore: 2 };

const courseName = (set, number) => `${set.prefix}${number}`;
const many = (count, one, more) => `${count} ${count === 1 ? one : more}`;

function edgeSubject(edge, face) {
  const { opening, kind } = edge.target;
  return opening === null ? SUBJECTS[kind] : `${face.openings[opening].mark} ${SUBJECTS[kind]}`;
}

/** How far up its course an edge is cut, and the rest above it: differences of heights as shown. */
function edgeCut(edge) {
  const { butts } = edge.lines;
  const height = onTape(edge.target.height);
  return [height - onTape(butts[edge.course - 1]), onTape(butts[edge.course]) - height];
}

/** What the crew does at an edge. */
function edgeAction(edge, face) {
  const { kind, set } = edge.target;
  const course = `course ${courseName(DATA.sets[set], edge.course)}`;
  if (edge.result === "flush") {
    const off = onTape(edge.miss);
    const near = off ? `, line ${show(Math.abs(off))} ${off > 0 ? "above" : "below"} it` : "";
    return `flush, ${below(kind) ? `${course} ends here` : course}${near}`;
  }
  const [cut, rest] = edgeCut(edge);
  const up = show(cut);
  let action;
  const hangs = edge.course <= face.hung[set];
  if (hangs) action = `${course} hangs, the edge ${up} up from its bottom${edgeWhere(edge, face)}`;
  else if (["eave", "eave left", "eave right", "band"].includes(kind)) action = `rip ${course} to ${up}`;
  else if (kind === "step") action = `rip ${course}, ${up} off the bottom, ${show(rest)} left`;
  else {
    const over = kind === "sill" ? "off the top" : "left";
    action = `cut ${course} at ${up} up from the bottom${edgeWhere(edge, face)}, ${show(rest)} ${over}`;
  }
  if (edge.result === "sliver") action = `sliver ${show(below(kind) ? cut : rest)}: ${action}`;
  const pack = hangs ? 0 : onTape(edge.furring);
  return pack > 0 ? `${action}, pack ${show(pack)}` : action;
}

/** Where a curved or sloping opening is measured, and how wide it is where the course meets it. */
function edgeWhere(edge, face) {
  const chord = chordOf(edge, face);
  if (chord === null) return "";
  const point = face.openings[edge.target.opening].shape === "triangle" ? "peak" : "middle";
  const end = edge.target.kind === "head" ? "butt" : "top";
  return ` at the ${point}, ${show(chord[1] - chord[0])} wide at the ${end}`;
}

/** What became of edges that share a fate: B, C sill: notch, 2-1/4" left. */
function fateWords(edges, face) {
  const [first] = edges;
  const { kind, opening, importance } = first.target;
  const [cut, rest] = edgeCut(first);
  const left = show(below(kind) ? cut : rest);
  const marks = [...new Set(edges.map(({ target }) => face.openings[target.opening]?.mark))];
  const subject = opening === null ? SUBJECTS[kind] : `${marks.join(", ")} ${SUBJECTS[kind]}`;
  const fate = first.result === "sliver" ? `sliver ${left}` : first.rip ? `rip to ${left}` : `notch, ${left} left`;
  return `${subject}: ${fate}${importance === "must" ? ", must" : ""}`;
}

/** What was given up on a face, the worst first: edges that share a fate together. */
function givenUp(face) {
  const groups = new Map();
  for (const edge of worstFirst(edgesOf(face))) {
    const { importance, kind, height, set, opening } = edge.target;
    const key = JSON.stringify([importance, edge.result, kind, height.toFixed(6), set, opening === null]);
    if (!groups.has(key)) groups.set(key, []);
    groups.get(key).push(edge);
  }
  return [...groups.values()].map((edges) => fateWords(edges, face));
}

/** Edges that are not flush and were wanted, the worst first. */
function worstFirst(edges) {
  const key = (edge) => [
    IMPORTANCE[edge.target.importance], RANKS[edge.result], onTape(edge.strip), edge.target.height,
  ];
  const given = edges.filter((edge) => edge.result !== "flush" && edge.target.importance !== "ignore");
  return given.sort((a, b) => {
    const [one, other] = [key(a), key(b)];
    const at = one.findIndex((value, index) => value !== other[index]);
    return at < 0 ? 0 : one[at] - other[at];
  });
}

function scoreWords(found) {
  return `${found.flush} flush, ${many(found.notches, "notch", "notches")}, ${many(found.slivers, "sliver", "slivers")}`;
}

/** Every term of the objective in its strict order. */
function scoreTerms(found) {
  return [
    ["starter outside its limits", show(found.limits)],
    ["musts missed", String(found.missed_must)],
    ["jumps beyond the greatest allowed", show(found.wide_jump)],
    ["slivers", String(found.slivers)],
    ["weight of the flush edges", String(Number(found.flush_weight.toPrecision(6)))],
    ["jumps between bands", show(found.jump)],
    ["bands", String(found.bands)],
    ["off the nominal exposure", show(found.off_nominal)],
    ["flush edges off their lines", show(found.flush_miss)],
    ["thin last courses", show(found.thin_eave)],
    ["furring", show(found.furring)],
    ["flush", String(found.flush)],
    ["notches", String(found.notches)],
  ];
}

/** The first term in which other lines differ from the plan's, in words. */
function againstPlan(other, plan) {
  const order = compareScores(other, plan);
  if (order === 0) return "As good as the plan.";
  if (order < 0) return "Better than the plan, which was asked to start elsewhere.";
  const reasons = [
    [other.limits > plan.limits, "it lies outside its limits"],
    [other.missed_must > plan.missed_must, `${many(other.missed_must, "must is", "musts are")} missed, in the plan ${plan.missed_must}`],
    [other.wide_jump > plan.wide_jump, "the exposure jumps too far between bands"],
    [other.slivers > plan.slivers, `${many(other.slivers, "sliver", "slivers")}, in the plan ${plan.slivers}`],
    [other.flush < plan.flush && other.flush_weight < plan.flush_weight, `only ${other.flush} edges are flush, in the plan ${plan.flush}`],
    [other.flush_weight < plan.flush_weight, "edges that count more are not flush"],
    [other.jump > plan.jump, "the exposure jumps more between bands"],
    [other.bands > plan.bands, `it takes ${other.bands} bands, the plan ${plan.bands}`],
    [other.off_nominal > plan.off_nominal, "its exposures are farther from the nominal one"],
    [other.flush_miss > plan.flush_miss, "it meets flush edges less closely"],
    [other.thin_eave > plan.thin_eave, "it leaves thinner last courses"],
  ];
  const [, reason] = reasons.find(([holds]) => holds) ?? [true, "it takes more packing"];
  return `Worse than the plan: ${reason}.`;
}

/** One band: 14 courses at 8", or 6 courses in 5' 1", about 10-3/16" each off the tape's marks. */
function bandWords(lines, [first, courses, exposure]) {
  const count = many(courses, "course", "courses");
  if (Math.abs(exposure - onTape(exposure)) <= 1e-6 * TAPE.mark) return `${count} at ${show(exposure)}`;
  const rise = onTape(lines.butts[first - 1 + courses]) - onTape(lines.butts[first - 1]);
  return courses === 1 ? `${count} at ${show(rise)}` : `${count} in ${show(rise)}, about ${show(exposure)} each`;
}

/** A slope's cut: 8" up, 16" over; from square 63.4 degrees. */
function slopeWords({ slope, layouts }) {
  const shown = new Map();
  for (const [exposure, run] of layouts) {
    if (!shown.has(onTape(exposure))) shown.set(onTape(exposure), `${show(exposure, false)} up, ${show(run, false)} over`);
  }
  return `${[...shown.values()].join(" or ")}; ${slope.words[1]}`;
}
