
/* Served by a program that checks the plan at each save: this page asks whether it is still the last
   one, and loads the next with what is unfolded, sifted and scrolled as it was. */
const live = document.querySelector(".live");
const page = document.documentElement.dataset.page;
const kept = `wattproof ${location.pathname}`;
const folds = () => named("details", (each) => each.closest("[data-about], [id]"));
const boxes = () => named(".wide, .drawing, .listing", (each) => each.closest("[data-about], [id]"));
const anchors = () => named("[data-about], main [id]", (each) => each);

/* Elements by what they belong to, which stays while findings get other numbers. */
function named(selector, owner) {
  const counts = new Map();
  return new Map([...document.querySelectorAll(selector)].map((each) => {
    const of = owner(each);
    const name = of ? of.dataset.about || of.id : "";
    counts.set(name, (counts.get(name) || 0) + 1);
    return [`${name} ${counts.get(name)}`, each];
  }));
}

function keep() {
  const near = [...anchors()]
    .map(([name, each]) => [name, each.getBoundingClientRect().top, each])
    .filter(([, , each]) => each.checkVisibility())
    .sort(([, a], [, b]) => Math.abs(a) - Math.abs(b));
  const state = {
    folds: [...folds()].map(([name, each]) => [name, each.open]),
    boxes: [...boxes()].map(([name, each]) => [name, each.scrollLeft]),
    anchors: near.slice(0, 30).map(([name, top]) => [name, top]),
    top: window.scrollY,
    focus: document.activeElement ? document.activeElement.id : "",
    sieve: sieve ? [...sieve.elements].map((each) => [each.name, each.value, each.checked]) : [],
  };
  sessionStorage.setItem(kept, JSON.stringify(state));
}

function restore(state) {
  const own = folds();
  for (const [name, open] of state.folds) {
    if (own.has(name)) own.get(name).open = open;
  }
  if (sieve) {
    const fields = [...sieve.elements];
    for (const [name, value, checked] of state.sieve) {
      const typed = fields.find((each) => each.name === name && each.type === "search");
      const box = fields.find((each) => each.name === name && each.value === value);
      if (typed) typed.value = value;
      else if (box) box.checked = checked;
    }
    sift();
  }
  const sideways = boxes();
  for (const [name, left] of state.boxes) {
    if (sideways.has(name)) sideways.get(name).scrollLeft = left;
  }
  scroll(state);
}

function scroll(state) {
  const there = anchors();
  const found = state.anchors.find(([name]) => there.has(name)
    && there.get(name).checkVisibility());
  const top = state.top === 0 ? 0 : found
    ? window.scrollY + there.get(found[0]).getBoundingClientRect().top - found[1] : state.top;
  window.scrollTo({ top, behavior: "instant" });
}

function told(words, ended) {
  if (live.textContent !== words) live.textContent = words;
  live.classList.toggle("ended", ended);
}

const RENEWED = live.textContent;
let failed = 0;
async function ask() {
  try {
    const answer = await fetch(`state?after=${page}`, { cache: "no-store" });
    if (!answer.ok) throw new Error(answer.statusText);
    const state = await answer.json();
    failed = 0;
    told(RENEWED, false);
    if (String(state.page) !== page) {
      keep();
      location.reload();
      return;
    }
    setTimeout(ask, 50);
  } catch {
    failed += 1;
    if (failed > 1) {
      told("Not renewed any more, and maybe old: the program that checks the plan has ended.", true);
    }
    setTimeout(ask, failed > 1 ? 3000 : 500);
  }
}

history.scrollRestoration = "manual";
const before = sessionStorage.getItem(kept);
if (before) {
  sessionStorage.removeItem(kept);
  const state = JSON.parse(before);
  restore(state);
  window.addEventListener("load", () => scroll(state));
}
ask();
