// Where the user is on the page: kept by the browser over reload, Back and Forward, and by the page for the next time.

const LAST_FACE = `evencourse ${DATA.key} face`;

const placeNow = () => ({ key: DATA.key, face: faceNow().name, picked: state.picked, view: zoomed() ? [view.k, view.x, view.y] : null });

let returning = false; // a sheet was closed, and the browser is on its way back to the place under it

/** Remember this place as one to come back from, or in the stead of the one before. */
function keepPlace(how) {
  if (!returning) window.history[how](placeNow(), "");
}

let settling = null;
/** The view may have moved: kept once it rests, as browsers take only so many changes. */
function keepView() {
  clearTimeout(settling);
  settling = setTimeout(() => {
    if (String(placeNow().view) !== String(window.history.state?.view ?? null)) keepPlace("replaceState");
  }, 200);
}

/** Whether what a place has open is still on its face: the page may have been made anew. */
function isThere(face, picked) {
  if (picked?.opening !== undefined) return picked.opening in face.openings;
  if (picked?.fixture !== undefined) return picked.fixture in face.fixtures;
  return picked !== null && setsOf(face).includes(picked.set);
}

/** Go to a place that the browser kept. */
function takePlace(place) {
  const face = place?.key === DATA.key ? DATA.faces.find(({ name }) => name === place.face) : undefined;
  const dialog = byId("details");
  state.picked = null;
  if (!face) return;
  if (face !== faceNow()) {
    state.face = face.number;
    showFace();
  }
  if (place.view) {
    [view.k, view.x, view.y] = place.view;
    keepInside();
    paint();
  }
  if (isThere(face, place.picked)) show(place.picked);
  else if (dialog.open) dialog.close();
}

/** A sheet was closed by its button, by Escape or by a tap beside it: Back would only open it again. */
function leaveSheet() {
  if (!window.history.state?.picked) return;
  returning = true;
  window.history.back();
}

function rememberFace() {
  try {
    window.localStorage.setItem(LAST_FACE, faceNow().name);
  } catch {
    // a browser that keeps nothing starts at the first face
  }
}

function recallFace() {
  let name = null;
  try {
    name = window.localStorage.getItem(LAST_FACE);
  } catch {
    return;
  }
  state.face = DATA.faces.find((face) => face.name === name)?.number ?? 0;
}

function startPlace() {
  window.addEventListener("popstate", ({ state: place }) => {
    if (!returning) {
      takePlace(place);
      return;
    }
    returning = false; // what was done on the way stands
    keepPlace(state.picked || place?.face !== faceNow().name ? "pushState" : "replaceState");
  });
  if (window.history.state) takePlace(window.history.state);
  else keepPlace("replaceState");
}
