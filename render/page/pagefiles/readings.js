// Lengths as a tape reads them, on a screen: for the page, and for the desk, which takes this file as it is.

const READING = /-?(?:\d+' )?(?:\d+-\d+\/\d+"?|\d+(?:\/\d+)?")/g;

/** A text whose lengths never break in two at the end of a line. */
export function worded(text) {
  const found = [];
  let last = 0;
  for (const { 0: reading, index } of text.matchAll(READING)) {
    const span = document.createElement("span");
    span.className = "reading";
    span.textContent = reading;
    found.push(text.slice(last, index), span);
    last = index + reading.length;
  }
  return [...found, text.slice(last)];
}
