// A change that a press wrote into the plan: what it is, and the way back.

import { button, coded, make, named } from "./dom.js";
import { caution } from "./verdict.js";

// made: an answer of `mend` or `choose`. undo: called to take it back.
export function showChange(made, word, undo) {
  const box = named("change");
  box.hidden = false;
  if (made.nothing) {
    box.replaceChildren(
      make("h2", {}, "Nothing changed"),
      make("p", {}, coded(`${made.nothing}.`)),
      ...refusals(made),
      button("Close", hideChange),
    );
    box.focus();
    return;
  }
  const back = () => {
    hideChange();
    undo();
  };
  const told = made.told.map((each) =>
    make("li", {}, coded(each.written), make("br"), make("span", { class: "soft" }, coded(each.clears.join("; ")))),
  );
  box.replaceChildren(
    make("h2", {}, "Written into the plan"),
    make("ul", {}, ...told),
    ...refusals(made),
    caution({ signal: word, text: made.caution }),
    make("p", { class: "acts" }, button("Undo", back), button("Keep it", hideChange)),
    make("details", {}, make("summary", {}, "The change, line by line"), difference(made.difference)),
  );
  box.focus({ preventScroll: true });
  box.scrollIntoView(); // from what was written on: what takes it back may lie a screen below
}

export function hideChange() {
  named("change").hidden = true;
  named("change").replaceChildren();
}

function refusals(made) {
  return made.refused.map((each) => make("p", { class: "wrong" }, "Not written: ", coded(each)));
}

function difference(text) {
  const kinds = { "+": "come", "-": "gone", "@": "soft" };
  const lines = text.split("\n").map((line) => {
    const isHead = line.startsWith("+++") || line.startsWith("---");
    return make("span", { class: (!isHead && kinds[line[0]]) || "same" }, `${line}\n`);
  });
  return make("pre", { tabindex: "0", "aria-label": "The change, line by line" }, ...lines);
}
