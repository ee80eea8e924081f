// Undo and redo: by their buttons, and by the keys that every program has for them.
import { here, post, say } from "./net.js";
import { spoken } from "./words.js";

const find = (name) => document.querySelector(name);

/** before is waited for; after is told of what a step did. */
export function undoing(before, after) {
  for (const [name, back] of [["#undo", true], ["#redo", false]]) {
    find(name).addEventListener("click", async () => {
      await before();
      try {
        const answer = await post(`${here}/step`, { back });
        if (answer.nothing) say(back ? spoken("Nothing to undo.") : spoken("Nothing to redo."));
        else await after(answer);
      } catch (error) {
        say(error.answer ? error.message : spoken("No connection to the desk."), true);
      }
    });
  }
  addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || event.target.matches("input:not([type=range], [type=radio])")) return;
    event.preventDefault();
    find(event.shiftKey ? "#redo" : "#undo").click();
  });
}
