// The folder: a new job, or a sample.
import "./bring.js";
import { post, say } from "./net.js";

const ready = (on) => { for (const button of document.querySelectorAll("button")) button.disabled = !on; };
const go = async (content) => {
  ready(false);
  try {
    const { job } = await post("/jobs", content);
    location.assign(`/job/${encodeURIComponent(job)}/measure?face=${content.sample ? 0 : "job"}`);
  } catch (error) {
    say(error.message, true);
    ready(true);
  }
};

for (const button of document.querySelectorAll("[data-sample]")) {
  button.addEventListener("click", () => go({ sample: button.dataset.sample }));
}
const form = document.querySelector("#new");
form.elements.who.value ||= localStorage.getItem("evencourse-who") ?? "";
form.addEventListener("submit", (event) => {
  event.preventDefault();
  const values = Object.fromEntries(new FormData(form));
  localStorage.setItem("evencourse-who", values.who);
  go(values);
});
addEventListener("pageshow", () => ready(true));
ready(true);
