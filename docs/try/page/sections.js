// What is computed when somebody looks: layouts, diagram, curves, what to look up, pages.

import { button, coded, make, named } from "./dom.js";
import { fit, framed, pictured, print, show } from "./frames.js";
import { save } from "./files.js";

// acts: { ask(call, ...arguments), show(file, line, column), choose(layout), name() }.
export class Sections {
  constructor(acts) {
    this.acts = acts;
    this.frames = new Map();
    this.found = null;
    this.filling = new Map();
    for (const section of this.#all()) {
      section.addEventListener("toggle", () => section.open && this.#fill(section));
    }
    addEventListener("resize", () => this.frames.forEach(fit));
  }

  #all() {
    return document.querySelectorAll("details[data-shows]");
  }

  // After a check: what is open is computed anew, what is closed when it is opened.
  async refresh(found) {
    this.found = found;
    for (const section of this.#all()) {
      section.dataset.stale = "yes";
      if (section.open) await this.#fill(section);
    }
  }

  async #fill(section) {
    if (!this.found || section.dataset.stale !== "yes") return;
    section.dataset.stale = "no";
    const body = section.querySelector(".body");
    section.setAttribute("aria-busy", "true");
    try {
      await this[section.dataset.shows](body);
    } catch (error) {
      body.replaceChildren(make("p", { class: "wrong" }, coded(error.message)));
    }
    section.removeAttribute("aria-busy");
  }

  async layouts(body) {
    const told = await this.acts.ask("layouts");
    const rows = told.each.map((each) => {
      const figures = each.figures.map(([label, text]) =>
        make("div", {}, make("dt", {}, coded(label)), make("dd", {}, coded(text))),
      );
      return make(
        "li",
        { class: each.fits ? "fits" : "error" },
        make(
          "details",
          {},
          make("summary", {}, make("strong", {}, each.name), `: ${each.outcome}`),
          make("dl", {}, ...figures),
        ),
        each.reason ? make("p", { class: "remedy" }, coded(each.reason)) : null,
        told.open
          ? make("p", { class: "acts" }, button(`Take ${each.name}`, () => this.acts.choose(each.name)))
          : null,
      );
    });
    body.replaceChildren(
      make("p", {}, coded(told.about)),
      make("p", {}, make("strong", {}, coded(told.closing))),
      make("ol", { class: "glance" }, ...rows),
      make("p", { class: "soft" }, coded(told.basis)),
      make("p", { class: "soft" }, coded(`A layout is a proposal, worked out from labels. ${this.found.standing}`)),
    );
  }

  async diagram(body) {
    const svg = await this.acts.ask("diagram");
    await this.#picture(body, svg, "One-line diagram", "There is nothing to draw yet.", "diagram.svg");
  }

  async curves(body) {
    const { picture, text } = await this.acts.ask("curves");
    await this.#picture(body, picture, "Curves", "There are no curves yet.", "curves.svg");
    if (text) body.append(make("pre", { tabindex: "0", "aria-label": "Curves as text" }, text));
  }

  async #picture(body, svg, title, nothing, file) {
    if (!svg) {
      this.frames.delete(title);
      body.replaceChildren(make("p", {}, nothing));
      return;
    }
    const frame = this.#frame(body, title);
    body.append(button("Save the picture", () => save(file, svg, "image/svg+xml")));
    await show(frame, pictured(svg));
  }

  #frame(body, title) {
    const frame = framed(title);
    this.frames.set(title, frame);
    body.replaceChildren(frame);
    return frame;
  }

  questions(body) {
    const items = this.found.questions.map((each) => {
      const places = each.places.map((place) =>
        button(`Line ${place.line}`, () => this.acts.show(place.file, place.line, place.column)),
      );
      return make(
        "li",
        {},
        make("strong", {}, coded(each.asks)),
        make(
          "dl",
          {},
          ...pair("Where", each.where),
          ...pair("Write", each.instead),
          ...pair("At worst", each.decides.join("; ")),
        ),
        make("p", { class: "acts" }, ...places),
      );
    });
    const assumed = this.found.assumed.map((each) => make("li", {}, coded(each.says)));
    body.replaceChildren(
      items.length ? make("ol", {}, ...items) : make("p", {}, "Nothing has to be looked up."),
      assumed.length
        ? make("details", {}, make("summary", {}, `Taken as usual (${assumed.length})`), make("ul", {}, ...assumed))
        : "",
    );
  }

  bench(body) {
    return this.#page(body, "bench", "Sheets for the bench");
  }

  whole(body) {
    return this.#page(body, "", "The whole page");
  }

  async #page(body, paper, title) {
    const html = await this.acts.ask("page", paper);
    const frame = this.#frame(body, title);
    const name = `${this.acts.name()}${paper ? `-${paper}` : ""}.html`;
    body.prepend(
      make(
        "p",
        { class: "acts" },
        button("Print", () => print(frame)),
        button("Save as a file", () => save(name, html, "text/html")),
      ),
    );
    await show(frame, html);
  }
}

function pair(label, text) {
  return text ? [make("div", {}, make("dt", {}, label), make("dd", {}, coded(text)))] : [];
}
