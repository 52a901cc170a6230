"use strict";

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

