const sieve = document.querySelector(".sieve");
const plans = [...document.querySelectorAll("tbody tr")].map((row) => ({
  row,
  words: row.textContent.toLowerCase().replace(/\s+/g, " "),
}));

function sift() {
  const data = new FormData(sieve);
  const signals = data.getAll("signal");
  const words = data.get("words").toLowerCase().split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const plan of plans) {
    plan.row.hidden = !signals.includes(plan.row.dataset.signal)
      || !words.every((word) => plan.words.includes(word));
    shown += plan.row.hidden ? 0 : 1;
  }
  sieve.querySelector("[role=status]").textContent = `${shown} of ${plans.length} plans are shown.`;
}

sieve.hidden = false;
sieve.addEventListener("input", sift);
sieve.addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("pageshow", sift);
document.querySelectorAll("table.sortable").forEach(sortable);
