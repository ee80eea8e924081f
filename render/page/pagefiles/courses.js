// Course lines scored in the page, as layout/courses/panels.py, layout/courses/edges.py and layout/courses/score.py do it: the same
// order of operations, so that the figures are the same to the last bit. All of it is minimised in this order.

const TERMS = [
  "limits", "missed_must", "wide_jump", "slivers", "flush_weight", "jump", "bands", "off_nominal",
  "flush_miss", "thin_eave", "furring",
];
const below = (kind) => RULES.below.includes(kind);

/** The nearest whole number; halfway goes to the even one. */
function nearestEven(value) {
  const near = Math.round(value);
  return Math.abs(value % 1) === 0.5 && near % 2 !== 0 ? near - 1 : near;
}

const quanta = (length) => nearestEven((length / RULES.inch) * RULES.quantum);
const asLength = (count) => (count * RULES.inch) / RULES.quantum;

/** Courses of one moulded exposure from a starter line up past the highest point. */
function panelLines(set, starter) {
  const count = Math.max(1, Math.ceil((set.top - starter) / set.exposure - RULES.near));
  const butts = [];
  for (let k = 0; k <= count; k += 1) butts.push(starter + set.exposure * k);
  return { starter, bands: [[1, count, set.exposure]], butts };
}

/** How many butt lines lie at or under a height. */
function linesUnder(butts, height) {
  let low = 0;
  let high = butts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (height < butts[middle]) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Stand-off from the wall at a height above a butt line. */
function standOff(set, height, exposure) {
  const face = exposure / set.panelFaces;
  let above = height % face;
  if (Math.min(above, face - above) < 1e-9 * face) above = 0;
  return set.projection - ((set.projection - set.projectionTop) * above) / face;
}

/** What happens at one edge; null where it lies below the starter line or the first course hangs over it. */
function edgeAt(target, lines, set) {
  const near = RULES.near * RULES.inch;
  const { height, kind } = target;
  if (height <= lines.starter + 100 * near) return null;
  if (kind === "step" && height <= lines.starter + set.coverRun + near) return null;
  const { butts } = lines;
  const index = Math.min(linesUnder(butts, height + 100 * near) - 1, butts.length - 2);
  const exposure = butts[index + 1] - butts[index];
  let cut = height - butts[index];
  if (Math.min(cut, Math.abs(exposure - cut)) < 100 * near) cut = cut < exposure / 2 ? 0 : exposure;
  const nearest = cut <= exposure - cut ? index : index + 1;
  let miss = butts[nearest] - height;
  if (Math.abs(miss) < 100 * near) miss = 0;
  const flush = Math.abs(miss) <= RULES.tolerance + near;
  let course = index + 1;
  let strip = below(kind) ? cut : exposure - cut;
  let furring = set.projection - standOff(set, cut, exposure);
  if (flush) {
    course = below(kind) ? nearest : nearest + 1;
    const low = Math.max(0, Math.min(course - 1, butts.length - 2));
    [cut, strip, furring] = [0, butts[low + 1] - butts[low], 0];
  }
  return {
    target,
    lines,
    result: flush ? "flush" : strip < RULES.stripMin - near ? "sliver" : "notch",
    course,
    cut,
    strip,
    furring,
    miss,
    rip: RULES.ripped.includes(kind) && !flush,
    span: [butts[index], butts[index + 1]],
  };
}

const RANK = { sliver: 0, notch: 1, flush: 2 };

/** The lines that an edge meets on its face: where the face has its own, those at the end that comes out worse. */
function linesThere(lines, face, target, set) {
  const own = lines.own?.[face.number];
  if (!own) return lines;
  const xs = face.outline.map(([x]) => x);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [one, other] = [target.left, target.right].map((x) => {
    const share = (x - left) / (right - left);
    const butts = [...lines.butts];
    for (const [course, low, high] of own) butts[course - 1] = low + share * (high - low);
    const there = { ...lines, starter: butts[0], butts };
    const edge = edgeAt(target, there, set);
    if (edge === null) return { there, worse: [3, 0] };
    return { there, worse: [RANK[edge.result], edge.result === "flush" ? -Math.abs(edge.miss) : edge.strip] };
  });
  const order = one.worse[0] - other.worse[0] || one.worse[1] - other.worse[1];
  return order <= 0 ? one.there : other.there;
}

/** The objective of finished course lines: its terms as lengths and counts, and as whole numbers in order. */
function score(setNumber, lines) {
  const set = DATA.sets[setNumber];
  const terms = Object.fromEntries(TERMS.map((term) => [term, 0]));
  if (!set.hung) terms.limits = quanta(Math.max(0, set.limits[0] - lines.starter, lines.starter - set.limits[1]));
  let [flush, notches] = [0, 0];
  for (const face of DATA.faces) {
    for (const target of face.targets) {
      if (target.set !== setNumber || target.importance === "ignore") continue;
      const found = edgeAt(target, linesThere(lines, face, target, set), set);
      if (found === null) continue;
      if (found.result === "flush") {
        flush += 1;
        terms.flush_weight -= nearestEven(target.weight * RULES.weightQuantum);
        terms.flush_miss += quanta(Math.abs(found.miss));
      } else {
        terms.missed_must += target.importance === "must" ? 1 : 0;
        terms.slivers += found.result === "sliver" ? 1 : 0;
        notches += found.result === "notch" ? 1 : 0;
        terms.furring += quanta(found.furring);
      }
      if (RULES.eaves.includes(target.kind)) {
        terms.thin_eave += quanta(Math.max(0, set.eaveMin - found.strip));
      }
    }
  }
  lines.bands.forEach(([, courses, exposure], number) => {
    terms.off_nominal += courses * quanta(Math.abs(exposure - set.exposure));
    if (number === 0) return;
    const change = Math.abs(exposure - lines.bands[number - 1][2]);
    terms.wide_jump += quanta(Math.max(0, change - set.jumpMax));
    terms.jump += quanta(Math.max(0, change - set.jumpUnseen));
  });
  terms.bands = lines.bands.length;
  return {
    limits: asLength(terms.limits),
    missed_must: terms.missed_must,
    wide_jump: asLength(terms.wide_jump),
    slivers: terms.slivers,
    flush_weight: terms.flush_weight === 0 ? 0 : -terms.flush_weight / RULES.weightQuantum,
    jump: asLength(terms.jump),
    bands: terms.bands,
    off_nominal: asLength(terms.off_nominal),
    flush_miss: asLength(terms.flush_miss),
    thin_eave: asLength(terms.thin_eave),
    furring: asLength(terms.furring),
    flush,
    notches,
    order: TERMS.map((term) => terms[term]),
  };
}

/** Less than 0 when the first score is the better one. */
function compareScores(one, other) {
  const at = one.order.findIndex((value, index) => value !== other.order[index]);
  return at < 0 ? 0 : one.order[at] - other.order[at];
}
