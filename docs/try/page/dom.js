// Elements, made of texts alone: nothing that a plan says is ever read as markup.

export function make(tag, told = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(told)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value != null) element.setAttribute(name, value);
  }
  element.append(...children.filter((child) => child != null && child !== ""));
  return element;
}

// A text in which what stands between backticks is code.
export function coded(text) {
  const made = document.createDocumentFragment();
  text.split(/`([^`]*)`/).forEach((piece, number) => {
    if (piece) made.append(number % 2 ? make("code", {}, piece) : piece);
  });
  return made;
}

export function button(words, act, told = {}) {
  return make("button", { type: "button", onclick: act, ...told }, words);
}

export function named(id) {
  return document.getElementById(id);
}
