// Files: made by the desk, step by step, and fetched.
import { here, posted, say } from "./net.js";
import { landed } from "./press.js";
import { spoken } from "./words.js";

async function make(button) {
  const state = button.querySelector("[data-state]");
  const link = document.querySelector(`[data-made="${button.dataset.make}"]`);
  button.disabled = true;
  link.hidden = true;
  state.textContent = spoken("working…");
  try {
    const response = await posted(`${here}/make/${button.dataset.make}`);
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    let rest = "";
    for (;;) {
      const { value, done } = await reader.read();
      if (done) break;
      const lines = (rest + value).split("\n");
      rest = lines.pop();
      for (const line of lines) {
        const told = JSON.parse(line);
        if (told.step) state.textContent = `${told.step}…`;
        if (told.error) throw new Error(told.error);
        if (told.done) {
          await landed();
          state.textContent = spoken("made");
          Object.assign(link, { href: told.done, hidden: false, textContent: spoken("Take {file}", { file: told.name }), download: told.name });
          link.click();
        }
      }
    }
    if (!response.ok) throw new Error(JSON.parse(rest).error);
  } catch (error) {
    state.textContent = error.message;
    say(spoken("It was not made: see below its name."), true);
  }
  button.disabled = false;
}

for (const button of document.querySelectorAll("[data-make]")) button.addEventListener("click", () => make(button));
