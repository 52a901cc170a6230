// The ways to start: a few questions, an example, or files from the disk.

import { button, coded, make, named } from "./dom.js";

// The form of the questions. begun: called with the text of the plan.
export class Questions {
  constructor(engine, begun) {
    this.engine = engine;
    this.begun = begun;
    this.fields = new Map();
    this.form = named("questions-form");
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.#asked(true);
    });
  }

  async fill() {
    if (this.fields.size) return;
    const asks = await this.engine.call("asks", {});
    for (const [number, ask] of asks.entries()) {
      const id = `ask-${ask.key}`;
      const field = ask.words.length ? chosenFrom(ask) : writtenIn(ask);
      field.id = id;
      field.name = ask.key;
      field.setAttribute("aria-describedby", `${id}-where ${id}-wrong`);
      field.addEventListener("change", () => this.#asked(false));
      const wrong = make("p", { id: `${id}-wrong`, class: "wrong", role: "alert" });
      const needed = ask.needed ? make("span", { class: "needed" }, " needed") : null;
      const row = make(
        "div",
        { class: "ask" },
        make("label", { for: id }, `${number + 1}. `, ask.asks, needed),
        make("p", { id: `${id}-where`, class: "soft" }, coded(ask.where)),
        field,
        wrong,
      );
      this.form.append(row);
      this.fields.set(ask.key, { field, wrong, row });
    }
    this.form.append(make("p", {}, make("button", { type: "submit" }, "Write the plan")));
  }

  async #asked(whole) {
    const written = Object.fromEntries([...this.fields].map(([key, { field }]) => [key, field.value]));
    const { text, mistakes, missing, idle } = await this.engine.call("begin", { with: [written] });
    for (const [key, { wrong, field, row }] of this.fields) {
      const said = mistakes[key] ?? (whole && missing.includes(key) ? "This one is needed: the rest hangs on it." : "");
      if (wrong.textContent !== said) wrong.replaceChildren(coded(said));
      field.setAttribute("aria-invalid", said ? "true" : "false");
      row.hidden = idle.includes(key);
    }
    if (!whole) return;
    if (text) this.begun(text);
    else this.form.querySelector("[aria-invalid=true]")?.focus();
  }
}

function chosenFrom(ask) {
  const none = ask.needed ? "choose one" : "I do not know";
  const choices = ask.words.map((word) => make("option", { value: word }, word));
  return make("select", {}, make("option", { value: "" }, none), ...choices);
}

function writtenIn(ask) {
  return make("input", { type: "text", placeholder: ask.example, autocomplete: "off", spellcheck: "false" });
}

// The list of examples. open: called with a desk.
export function listExamples(examples, open) {
  const items = examples.map((example) => {
    const title = example.files[example.plan].match(/^title:\s*(.+)$/m)?.[1] ?? example.plan;
    const faults = example.plan.includes("/faulty/") ? "with faults, to see what is found: " : "";
    return make("li", {}, button(title, () => open(example)), ` ${faults}`, make("code", {}, example.plan));
  });
  named("examples-list").replaceChildren(...items);
}
