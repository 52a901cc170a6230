"use strict";

const sieve = document.querySelector(".sieve");

function sift() {
  const data = new FormData(sieve);
  const levels = data.getAll("level");
  const hazards = data.getAll("hazard");
  const words = data.get("words").trim().toLowerCase();
  const sheets = [...document.querySelectorAll("#findings .sheet")];
  for (const sheet of sheets) {
    sheet.hidden = !levels.includes(sheet.dataset.level)
      || !hazards.includes(sheet.dataset.hazard)
      || !sheet.textContent.toLowerCase().includes(words);
  }
  for (const group of document.querySelectorAll("#findings .story, #findings .hazard")) {
    group.hidden = !group.querySelector(".sheet:not([hidden])");
  }
  const shown = sheets.filter((sheet) => !sheet.hidden).length;
  sieve.querySelector("[role=status]").textContent = `${shown} of ${sheets.length} findings are shown.`;
}

/* A link to a finding that is sifted out shows all again. */
function reveal() {
  const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (target && target.closest("[hidden]")) {
    sieve.reset();
    sift();
    target.scrollIntoView();
  }
}

function value(row, column) {
  const cell = row.cells[column];
  return "number" in cell.dataset ? Number(cell.dataset.number) : cell.textContent.trim();
}

function compared(a, b) {
  if (typeof a !== typeof b) return typeof a === "number" ? -1 : 1;
  return typeof a === "number" ? a - b : a.localeCompare(b, "en", { numeric: true });
}

function sortable(table) {
  const heads = [...table.tHead.rows[0].cells];
  heads.forEach((head, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = head.textContent;
    head.replaceChildren(button);
    button.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending";
      heads.forEach((other) => other.removeAttribute("aria-sort"));
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const body = table.tBodies[0];
      const rows = [...body.rows].sort((a, b) => compared(value(a, column), value(b, column)));
      body.append(...(down ? rows.reverse() : rows));
    });
  });
}

/* Folded on a telephone only; from the link at the foot of the screen it opens there too. */
const contents = document.querySelector("#contents details");
if (contents) {
  contents.open = window.matchMedia("(min-width: 34rem)").matches;
  document.querySelector(".up a").addEventListener("click", () => { contents.open = true; });
}

if (sieve) {
  sieve.hidden = false;
  sieve.addEventListener("input", sift);
  sieve.addEventListener("submit", (event) => event.preventDefault());
  window.addEventListener("hashchange", reveal);
  sift();
}
document.querySelectorAll("table.sortable").forEach(sortable);

let closed = [];
window.addEventListener("beforeprint", () => {
  closed = [...document.querySelectorAll("details:not([open])")];
  closed.forEach((each) => { each.open = true; });
});
window.addEventListener("afterprint", () => closed.forEach((each) => { each.open = false; }));
