// A drawing is brought to the desk from a file of this machine.
import { brought, say } from "./net.js";
import { spoken } from "./words.js";

document.addEventListener("change", async (event) => {
  const field = event.target.closest?.("[data-bring]");
  const file = field?.files[0];
  if (!file) return;
  const most = Number(field.dataset.most);
  if (file.size > most) {
    say(spoken("{file}: found {size} MB; wanted at most {most} MB: walls, openings and roofs alone", { file: file.name, size: Math.ceil(file.size / 1e6), most: most / 1e6 }), true);
    field.value = "";
    return;
  }
  field.disabled = true;
  say(spoken("Bringing {file} …", { file: file.name }));
  try {
    const { drawing } = await brought(file);
    location.assign(`/drawing/${drawing}${field.dataset.job ? `?job=${encodeURIComponent(field.dataset.job)}` : ""}`);
  } catch (error) {
    say(error.message, true);
  } finally {
    field.disabled = false;
    field.value = "";
  }
});
