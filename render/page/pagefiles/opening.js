// One opening drawn large: its courses at the left, at the right where the courses at its edges are cut.

/** The drawing's width, its least right margin for lettering, most of its height, and the least height between two lines of lettering. */
const SHEET = { width: 360, right: 84, height: 330, pitch: 17, air: 20 };

/** Heights pushed apart, in their order, until no two are nearer than a line of lettering. */
function apart(heights) {
  const order = heights.map((y, index) => [y, index]).sort(([a], [b]) => a - b);
  for (let round = 0; round < 40; round += 1) {
    for (let at = 1; at < order.length; at += 1) {
      const lacks = SHEET.pitch - (order[at][0] - order[at - 1][0]);
      if (lacks <= 0.01) continue;
      order[at][0] += lacks / 2;
      order[at - 1][0] -= lacks / 2;
    }
  }
  const found = [];
  for (const [y, index] of order) found[index] = y;
  return found;
}

/** A course's butt line, or the one over it, at a place along a face whose lines may be out of level. */
function lineAt(face, courses, course, x) {
  const own = courses.find(({ set, number }) => set === course.set && number === course.number)?.ends;
  if (!own) return course.butt;
  const [left, , right] = boundsOf(cladOutline(face));
  return own[0] + ((own[1] - own[0]) * (x - left)) / (right - left);
}

/** The opening with its courses, to scale; one too wide for the screen is broken in the middle. */
function openingPicture(face, opening, edges) {
  const courses = coursesOf(face);
  const [left, bottom, right, top] = boundsOf(opening.trimmed);
  const near = courses.filter(({ foot, head }) => head > bottom - 1e-6 && foot < top + 1e-6);
  const more = near.length ? Math.max(...near.map(({ butt, next }) => next - butt)) : (top - bottom) / 4;
  const low = Math.max(Math.min(bottom, near[0]?.foot ?? bottom) - more * 0.8, Math.min(bottom, courses[0]?.foot ?? bottom));
  const high = Math.max(top, near.at(-1)?.head ?? top) + more * 0.8;
  const names = 12 + widest(near.map(({ name }) => name));
  const margin = names + widest(near.map(({ reading }) => reading)) + 10;
  const lettering = Math.max(SHEET.right, 24 + widest([say("result flush")]));
  const room = SHEET.width - margin - lettering - 2 * SHEET.air;
  const tall = SHEET.height / (high - low);
  const broken = opening.shape === "rectangle" && room / (right - left) < tall * 0.5;
  const k = broken ? tall : Math.min(tall, room / (right - left));
  const height = (high - low) * k;
  const wide = broken ? room : (right - left) * k;
  const from = margin + SHEET.air + (room - wide) / 2;
  const [edge0, edge1] = [margin, SHEET.width - lettering];
  const toPictureY = (y) => (high - y) * k;
  const toPictureX = (x) => from + (broken && x > (left + right) / 2 ? wide - (right - x) * k : (x - left) * k);
  const placed = (points) => `M${points.map(([x, y]) => `${toPictureX(x)} ${toPictureY(y)}`).join("L")}Z`;

  const shown = courses.filter(({ foot, head }) => head > low && foot < high);
  const lines = shown.filter((course) => course.butt >= low - 1e-6 && course.butt >= course.foot - 1e-6);
  const base = toPictureY(Math.max(low, shown[0]?.foot ?? low));
  const head = toPictureY(Math.min(high, shown.at(-1)?.head ?? high));
  const level = (course, x) => toPictureY(lineAt(face, courses, course, x));
  const cut = edges.filter(({ result }) => result !== "flush");
  const parts = cut.map((edge) => {
    const course = shown.find(({ set, number }) => set === edge.target.set && number === edge.course);
    if (!course) return null;
    const over = shown.find(({ set, number }) => set === course.set && number === course.number + 1);
    const x = edge.target.right;
    return { edge, low: level(course, x), at: toPictureY(edge.target.height), high: over ? level(over, x) : toPictureY(course.next) };
  }).filter(Boolean);

  const shapes = [
    shape("rect", { class: "siding", x: edge0, y: head, width: edge1 - edge0, height: base - head }),
    shape("path", { class: "chosen", d: parts.map(({ edge, low: foot, at, high: rim }) => {
      const [a, b] = edge.target.kind === "sill" ? [at, foot] : [rim, at];
      return `M${toPictureX(left)} ${a}H${toPictureX(right)}V${b}H${toPictureX(left)}Z`;
    }).join("") }),
    shape("path", { class: "butt", d: lines.map((course) => `M${edge0} ${level(course, left)}L${edge1} ${level(course, right)}`).join("") }),
    shape("path", { class: "trim", d: placed(opening.trimmed) }),
    shape("path", { class: `hole ${opening.kind.includes("door") ? "door" : ""}`, d: placed(opening.hole) }),
  ];
  if (broken) {
    const [x, y0, y1] = [from + wide / 2, Math.max(0, toPictureY(top) - 14), Math.min(height, toPictureY(bottom) + 14)];
    const zigzag = (at) => `${at} ${y0}L${at} ${(y0 + y1) / 2 - 9}L${at - 7} ${(y0 + y1) / 2 - 3}L${at + 7} ${(y0 + y1) / 2 + 3}L${at} ${(y0 + y1) / 2 + 9}L${at} ${y1}`;
    shapes.push(shape("path", { class: "gap", d: `M${x - 5} ${y0}H${x + 5}V${y1}H${x - 5}Z` }));
    shapes.push(shape("path", { class: "break", d: `M${zigzag(x - 5)}M${zigzag(x + 5)}` }));
  }
  const middle = broken ? from + wide / 4 : from + wide / 2;
  shapes.push(shape("text", { class: "mark", x: middle, y: toPictureY((bottom + top) / 2) + 5 }, opening.mark));

  // The ladder: lines at the edges first, then as many others as have room.
  const wanted = (course) => parts.some(({ edge }) => edge.target.set === course.set && [edge.course, edge.course + 1].includes(course.number)) || edges.some(({ target }) => Math.abs(toPictureY(target.height) - level(course, left)) < 1);
  const said = [];
  for (const course of [...lines.filter(wanted), ...lines.filter((one) => !wanted(one))]) {
    const y = level(course, left);
    if (y < 6 || y > height || said.some((other) => Math.abs(other.y - y) < SHEET.pitch)) continue;
    said.push({ y, course });
  }
  for (const { y, course } of said) {
    const style = course.number % 5 === 0 ? "label heavy" : "label";
    shapes.push(shape("text", { class: style, x: 2, y: y + 5 }, course.name));
    shapes.push(shape("text", { class: `${style} end`, x: margin - 10, y: y + 5 }, course.reading));
    shapes.push(shape("path", { class: "rung", d: `M${margin - 7} ${y}H${margin}` }));
  }

  // The cuts: up from the butt line to the edge, and on to the next line; a flush edge has its sign.
  const column = edge1 + 12;
  const rows = parts.flatMap(({ edge, low: foot, at, high: rim }) => [{ y: (foot + at) / 2, words: edge.cut, of: [foot, at] }, { y: (at + rim) / 2, words: edge.rest, of: [at, rim] }]);
  const flush = edges.filter(({ result }) => result === "flush").map(({ target }) => ({ y: toPictureY(target.height), words: say("result flush"), of: null }));
  const all = [...rows, ...flush];
  const places = apart(all.map(({ y }) => y));
  all.forEach(({ y, words, of }, index) => {
    const text = places[index];
    if (of === null) {
      shapes.push(shape("path", { class: "extension", d: `M${toPictureX(right) + 3} ${y}H${edge1 + 2}L${column + 4} ${text}` }));
      shapes.push(shape("text", { class: "label", x: column + 8, y: text + 5 }, words));
      return;
    }
    const [foot, rim] = of;
    const tie = (at) => `M${column - 4} ${at + 4}L${column + 4} ${at - 4}`;
    const leader = Math.abs(text - y) > 3 ? `L${column + 9} ${text}` : "";
    shapes.push(shape("path", { class: "extension", d: `M${toPictureX(right) + 3} ${foot}H${column + 5}M${toPictureX(right) + 3} ${rim}H${column + 5}` }));
    shapes.push(shape("path", { class: "measure", d: `M${column} ${foot}V${rim}${tie(foot)}${tie(rim)}` }));
    if (leader) shapes.push(shape("path", { class: "extension", d: `M${column} ${y}${leader}` }));
    shapes.push(shape("text", { class: "label heavy", x: column + 11, y: text + 5 }, words));
  });
  const ends = [...places, ...said.map(({ y }) => y), 0, height];
  const [rim, foot] = [Math.min(...ends) - 12, Math.max(...ends) + 12];
  return picture({ class: "large letters", viewBox: `0 ${rim} ${SHEET.width} ${foot - rim}` }, shapes);
}
