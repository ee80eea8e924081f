// The page comes up: every part is filled, and listens.

function saveTicks() {
  const text = ticksText();
  const name = `${DATA.job.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").slice(0, 60) || "job"}-ticks.json`;
  const link = make("a", { href: URL.createObjectURL(new Blob([text], { type: "application/json" })), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  byId("ticks-text").value = text;
  tell(`Saved as ${name}. Where a browser saves nothing, copy the text below.`);
}

function loadTicks(text) {
  try {
    tell(takeTicks(text));
    tickHung();
    keepTicks();
    showTicks();
  } catch (error) {
    tell(error.message);
  }
}

function tell(text) {
  byId("ticks-told").textContent = text;
}

function start() {
  byId("job").replaceChildren(named(DATA.job || "Job without a name"));
  byId("datum").replaceChildren("Heights from the datum: ", named(DATA.datum), ...(DATA.author ? [". Measured by ", named(DATA.author)] : []));
  recallTicks();
  tickHung();
  startDrawing();
  startDetails();
  byId("zoom-in").onclick = () => zoomBy(1.6);
  byId("zoom-out").onclick = () => zoomBy(1 / 1.6);
  byId("zoom-fit").onclick = fitView;
  byId("all-back").onclick = () => {
    faceNow().zones.forEach((zone) => moveStarter(zone.set, DATA.sets[zone.set].planned));
    byId("drawing").focus();
  };
  byId("next").onclick = () => {
    const next = nextCourse();
    if (next) tick(next, true);
  };
  byId("ticks-save").onclick = saveTicks;
  byId("ticks-paste").onclick = () => loadTicks(byId("ticks-text").value);
  byId("ticks-file").onchange = async (event) => {
    const [file] = event.target.files;
    if (file) loadTicks(await file.text());
    event.target.value = "";
  };
  byId("ticks-none").onclick = () => {
    if (!window.confirm("Take away every tick of this job, on all faces?")) return;
    ticks.clear();
    keepTicks();
    showTicks();
    tell("Every tick is gone.");
  };
  window.addEventListener("storage", (event) => {
    if (event.key !== PLACE) return;
    ticks.clear();
    recallTicks();
    tickHung();
    showTicks();
  });
  document.querySelectorAll(".legend-sign").forEach((place) => place.append(sign(place.dataset.sign)));
  showFace();
  document.body.classList.add("ready");
}

/** The figures of the page for whoever checks them: every mark of every course set. */
window.evencourse = Object.freeze({
  marks: () => DATA.sets.map((set) => set.marks.slice()),
  scoreAt: (set, mark) => score(set, linesFrom(set, mark)),
  edgesAt: (set, mark) => {
    const lines = (one) => (one === set ? linesFrom(set, mark) : planLines(one));
    return DATA.faces.map((face) => edgesOf(face, lines).map((edge) => [edgeSubject(edge, face), edge.result, edgeAction(edge, face)]));
  },
});

start();
