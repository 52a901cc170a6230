// Verdict and findings, beside what never goes away: to whom the last word belongs.

import { button, coded, make, named } from "./dom.js";

// acts: { show(file, line, column), mend(numbers) }.
export function tell(found, acts) {
  const { verdict } = found;
  const panel = named("panel");
  panel.className = `panel grave-${verdict.grave}`;
  panel.replaceChildren(
    make("p", { class: "signal" }, verdict.signal),
    make("p", { class: "says" }, verdict.says),
  );
  named("standing").replaceChildren(
    found.standing,
    found.local ? make("span", {}, " Whom to ask: ", coded(found.local), ".") : "",
  );
  named("counted").textContent = [found.title, found.counted, found.ran].filter(Boolean).join(" · ");
  const open = found.findings.filter((each) => !each.accepted);
  const accepted = found.findings.filter((each) => each.accepted);
  named("problems").replaceChildren(...found.problems.map((each) => problem(each, acts)));
  keepOpen(named("findings"), [...open, ...accepted].map((each) => finding(each, acts)));
  named("mend-all").hidden = !open.some((each) => each.mends);
  const left = [];
  if (found.choices) {
    left.push(make("p", {}, make("strong", {}, "Not chosen yet: "), coded(`${found.choices.words} ${found.choices.waits}`)));
  }
  named("not-chosen").replaceChildren(...left);
  named("choose").hidden = !found.choices;
}

// What was unfolded stays so where the same finding is there again.
function keepOpen(list, items) {
  const unfolded = new Set([...list.querySelectorAll("details[open]")].map((each) => each.dataset.key));
  for (const item of items) {
    const details = item.querySelector("details");
    details.open = unfolded.has(details.dataset.key);
  }
  list.replaceChildren(...items);
}

function problem(each, acts) {
  const place = `${each.file}:${each.line}:${each.column}`;
  return make(
    "li",
    { class: "error" },
    button(place, () => acts.show(each.file, each.line, each.column), { class: "place" }),
    " ",
    make("span", {}, coded(each.message)),
    each.instead ? make("span", { class: "remedy" }, coded(each.instead)) : null,
  );
}

function finding(each, acts) {
  const [place] = each.places;
  const summary = make(
    "summary",
    {},
    make("span", { class: "number" }, String(each.number)),
    make("span", { class: "hazard" }, each.hazard),
    make("span", { class: "what" }, coded(each.headline)),
  );
  const acted = make(
    "p",
    { class: "acts" },
    button(`Line ${place.line}`, () => acts.show(place.file, place.line, place.column), {
      "aria-label": `Finding ${each.number}: to line ${place.line}`,
    }),
    each.mends
      ? button("Apply the remedy", () => acts.mend([each.number]), {
          "aria-label": `Finding ${each.number}: apply the remedy`,
        })
      : null,
  );
  const details = make("details", { "data-key": `${each.rule} ${each.headline}` }, summary, folded(each));
  return make("li", { class: each.accepted ? "accepted" : each.level }, details, remedy(each), acted);
}

function remedy(each) {
  if (each.accepted) return make("p", { class: "remedy" }, `accepted: ${each.accepted}`);
  return each.remedy ? make("p", { class: "remedy" }, coded(each.remedy)) : null;
}

function folded(each) {
  const lines = make("dl");
  const add = (label, texts) => {
    const told = texts.filter(Boolean);
    if (!told.length) return;
    const items = told.map((text) => make("dd", {}, coded(text)));
    lines.append(make("div", {}, make("dt", {}, label), ...items));
  };
  add("Why", [each.why]);
  add("Tried", each.tried);
  add("Margin", [each.margin]);
  add("Rests on", each.rests);
  add("Numbers", each.numbers);
  add("Basis", each.basis);
  add("Ask", [each.local]);
  add("Rule", [`\`${each.rule}\`, ${each.level}, ${each.hazard_words}`]);
  return make("div", { class: "folded" }, each.caution ? caution(each.caution) : null, lines);
}

export function caution({ signal, text }) {
  return make(
    "div",
    { class: `caution signal-${signal.toLowerCase()}` },
    make("p", { class: "signal" }, signal),
    make("p", {}, coded(text)),
  );
}
