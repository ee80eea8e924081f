// Lengths as the tape reads them: the same figures as on the sheets (layout/model/lengths.py, render/words/plan_words.py).

/** A length on the nearest mark of the tape; halfway goes up. */
function onTape(length) {
  return Math.floor(length / TAPE.mark + 0.5) * TAPE.mark;
}

function greatestDivisor(a, b) {
  return b === 0 ? a : greatestDivisor(b, a % b);
}

/** Four decimals at most, without noughts at the end. */
function plain(value) {
  return value.toFixed(4).replace(/\.?0+$/, "") || "0";
}

/** A length or a height: 2' 11-1/2", -2-3/8", 0"; millimetres without a unit. */
function show(value, feet = true) {
  const [over, under] = TAPE.step;
  const marks = Math.floor(Number((value / TAPE.mark).toFixed(6)) + 0.5);
  const sign = marks < 0 ? "-" : "";
  const size = Math.abs(marks) * over; // in parts, "under" of them to one unit
  if (DATA.units === "mm") return sign + plain(size / under);
  const binary = (under & (under - 1)) === 0;
  const inches = (parts) => {
    if (!binary) return plain(parts / under);
    const whole = Math.floor(parts / under);
    const rest = parts % under;
    if (rest === 0) return String(whole);
    const divisor = greatestDivisor(rest, under);
    const fraction = `${rest / divisor}/${under / divisor}`;
    return whole ? `${whole}-${fraction}` : fraction;
  };
  const foot = 12 * under;
  if (!feet || size < foot) return `${sign}${inches(size)}"`;
  const rest = size % foot;
  const bare = binary && rest > 0 && rest < under;
  return `${sign}${Math.floor(size / foot)}' ${bare ? "0-" : ""}${inches(rest)}"`;
}

/** A height told from the datum: 2-3/8" below, 3/8" above, on the datum. */
function level(height) {
  const shown = onTape(height);
  if (shown === 0) return "on the datum";
  return `${show(Math.abs(shown))} ${shown < 0 ? "below" : "above"}`;
}

function levelOfDatum(height) {
  const words = level(height);
  return words.startsWith("on") ? words : `${words} the datum`;
}
