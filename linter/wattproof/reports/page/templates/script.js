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

/* Folded on a telephone only; from the link at the foot of the screen it opens there too. */
const contents = document.querySelector("#contents details");
if (contents) {
  contents.open = window.matchMedia("(min-width: 34rem)").matches;
  document.querySelector(".up a").addEventListener("click", () => { contents.open = true; });
}

/* Told of a picture only where it is wider than its box. */
function wider() {
  for (const told of document.querySelectorAll(".push")) {
    const box = told.nextElementSibling.querySelector(".drawing");
    told.classList.toggle("fits", box.scrollWidth <= box.clientWidth);
  }
}
window.addEventListener("resize", wider);
wider();

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
