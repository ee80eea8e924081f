// Sentences of the scripts in the language of the page: what is not in its table is said in English.

const table = new Map(Object.entries(JSON.parse(document.querySelector("#words").textContent)));
const rules = globalThis.Intl?.PluralRules && new Intl.PluralRules(document.documentElement.lang);
const form = (count) => rules?.select(count) ?? (count === 1 ? "one" : "other");

/** A sentence with its values by name; one that depends on a number has it as {count}. */
export function spoken(sentence, values) {
  const found = table.get(sentence) ?? sentence;
  const said = typeof found === "string" ? found : found[form(values?.count)] ?? found.other;
  return values ? said.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole) : said;
}
