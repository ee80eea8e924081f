// The wall under a starter line: what siding covers, the courses that show, the slopes that are cut.

/** Whether siding runs past a base down to the starter line instead of being cut along it. */
function hungOver(face, from, to) {
  const set = DATA.sets[face.zones[0].set];
  return Math.max(from[1], to[1]) <= linesOf(face.zones[0].set).starter + set.hangs + 1e-9;
}

/** The wall's outline, with the bases that siding hangs over drawn down to the starter line. */
function cladOutline(face) {
  const { starter } = linesOf(face.zones[0].set);
  const points = [];
  face.outline.forEach((start, index) => {
    const end = face.outline[(index + 1) % face.outline.length];
    if (end[0] > start[0] && hungOver(face, start, end)) points.push([start[0], starter], [end[0], starter]);
    else points.push(start, end);
  });
  return points;
}

/** Where a level line crosses an outline, from left to right. */
function crossings(outline, height) {
  const found = [];
  outline.forEach(([x0, y0], index) => {
    const [x1, y1] = outline[(index + 1) % outline.length];
    if (y0 <= height !== y1 <= height) found.push(x0 + ((x1 - x0) * (height - y0)) / (y1 - y0));
  });
  return found.sort((a, b) => a - b);
}

function zoneBottom(zone) {
  return zone.bottom === null ? linesOf(zone.set).starter : zone.bottom;
}

/** Every course that shows on a face, from the bottom up. */
function coursesOf(face) {
  const outline = cladOutline(face);
  const near = 1e-6 * RULES.inch;
  const found = [];
  for (const zone of face.zones) {
    const { butts, own } = linesOf(zone.set);
    const ends = new Map((own?.[face.number] ?? []).map(([course, ...heights]) => [course, heights]));
    const bottom = zoneBottom(zone);
    for (let number = 1; number < butts.length; number += 1) {
      const [foot, head] = [Math.max(butts[number - 1], bottom), Math.min(butts[number], zone.top)];
      if (head <= bottom + near || foot >= zone.top - near) continue;
      if (!crossings(outline, (foot + head) / 2).length) continue;
      const [butt, next] = [butts[number - 1], butts[number]];
      found.push({ set: zone.set, number, butt, next, foot, head, ends: ends.get(number) ?? null });
    }
  }
  return found;
}

/** Edges of a face from the bottom up, under the lines as they are now. */
function edgesOf(face, linesAt = linesOf) {
  const found = [];
  for (const target of face.targets) {
    const set = DATA.sets[target.set];
    const edge = edgeAt(target, linesThere(linesAt(target.set), face, target, set), set);
    if (edge !== null) found.push(edge);
  }
  const kind = (edge) => edge.target.kind;
  return found.sort(
    (a, b) =>
      a.target.height - b.target.height ||
      a.target.left - b.target.left ||
      (kind(a) < kind(b) ? -1 : kind(a) > kind(b) ? 1 : 0),
  );
}

/** Where the butt line of the cut course meets a curved or sloping opening; null at a square one. */
function chordOf(edge, face) {
  const { opening, kind } = edge.target;
  if (opening === null) return null;
  const { shape, trimmed } = face.openings[opening];
  if (shape === "rectangle" || (kind === "sill" && shape !== "round")) return null;
  const found = crossings(trimmed, edge.span[kind === "head" ? 0 : 1]);
  return found.length ? [found[0], found[found.length - 1]] : null;
}

/** Slopes that siding is cut along, each with the exposures of the bands that meet it. */
function slopesOf(face) {
  const kept = face.slopes.filter((slope) => slope.steep && !(slope.base && hungOver(face, slope.left, slope.right)));
  return kept.map((slope) => {
    const [low, high] = [slope.left[1], slope.right[1]].sort((a, b) => a - b);
    const exposures = [];
    for (const zone of face.zones) {
      const { butts, bands } = linesOf(zone.set);
      for (const [first, courses, exposure] of bands) {
        const top = Math.min(butts[first - 1 + courses], zone.top, high);
        const foot = Math.max(butts[first - 1], zoneBottom(zone), low);
        const known = exposures.some((other) => Math.abs(exposure - other) < 1e-9);
        if (top - foot > 1e-9 && !known) exposures.push(exposure);
      }
    }
    if (!exposures.length) exposures.push(linesOf(face.zones[face.zones.length - 1].set).bands.slice(-1)[0][2]);
    return { slope, low, high, layouts: exposures.map((exposure) => [exposure, (exposure * 12) / slope.pitch]) };
  });
}
