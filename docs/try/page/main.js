// The page: what is on the desk, and who is told when it changes.

import { NotReadable, packed, unpacked } from "./address.js";
import { Questions, listExamples } from "./begin.js";
import { hideChange, showChange } from "./change.js";
import { coded, make, named } from "./dom.js";
import { Editor } from "./editor.js";
import { Engine, Refused, Stopped } from "./engine.js";
import { opened, save } from "./files.js";
import { forgetLast, keepLast, readLast } from "./last.js";
import { partAsJson } from "./parts.js";
import { loadSchema } from "./schema.js";
import { Sections } from "./sections.js";
import { tell } from "./verdict.js";

const PAUSE = 350; // ms without a key before a check

const engine = new Engine();
const desk = { plan: "plan.yaml", files: {}, shown: "" };
const editor = new Editor(named("editor"), typed);
const sections = new Sections({ ask, show, choose, name: baseName });
const questions = new Questions(engine, (text) => lay({ plan: "plan.yaml", files: { "plan.yaml": text } }));

let pause = null;
let wanted = 0; // number of the newest check that is wanted
let latest = null;

function status(words, kind = "") {
  named("status").className = kind;
  named("status").replaceChildren(coded(words));
}

function given(...more) {
  return { plan: desk.plan, files: desk.files, with: more };
}

function ask(call, ...more) {
  return engine.call(call, given(...more));
}

function baseName() {
  return desk.plan.split("/").pop().replace(/\.ya?ml$/, "");
}

// Another plan, with its parts files.
function lay({ plan, files }, words = "") {
  Object.assign(desk, { plan, files: { ...files }, shown: plan });
  named("start").hidden = true;
  named("work").hidden = false;
  hideChange();
  fileList();
  editor.open(desk.files[plan]);
  named("came").textContent = words;
  named("panel").scrollIntoView({ block: "nearest" });
  named("work-head").focus();
  check();
}

function fileList() {
  const choice = named("file");
  const names = Object.keys(desk.files);
  choice.replaceChildren(...names.map((name) => make("option", { value: name }, name)));
  choice.value = desk.shown;
  named("file-row").hidden = names.length < 2;
}

function open(name) {
  if (name === desk.shown || !(name in desk.files)) return;
  desk.shown = name;
  named("file").value = name;
  editor.open(desk.files[name]);
  mark();
}

function show(file, line, column) {
  open(file);
  editor.show(line, column);
}

function typed(text) {
  desk.files = { ...desk.files, [desk.shown]: text };
  keepLast(desk);
  clearTimeout(pause);
  pause = setTimeout(check, PAUSE);
  stale();
}

function stale() {
  named("verdict").setAttribute("aria-busy", "true");
}

// Check what is on the desk; of several that are wanted meanwhile only the last is run.
async function check() {
  clearTimeout(pause);
  const number = ++wanted;
  stale();
  await engine.last;
  if (number !== wanted) return;
  try {
    const found = await ask("check");
    if (number !== wanted) return;
    latest = found;
    tell(found, { show, mend });
    mark();
    named("verdict").removeAttribute("aria-busy");
    status("");
    document.documentElement.dataset.checked = String(number);
    await sections.refresh(found);
  } catch (error) {
    if (number === wanted) failed(error);
  }
}

function failed(error) {
  const panel = named("panel");
  latest = null;
  named("findings").replaceChildren();
  named("problems").replaceChildren();
  panel.className = "panel grave-3";
  panel.replaceChildren(
    make("p", { class: "signal" }, "NOT FULLY CHECKED"),
    make("p", { class: "says" }, coded(error.message)),
  );
  named("verdict").removeAttribute("aria-busy");
  status(error instanceof Stopped ? "Stopped. Change the plan, and it is checked again." : "", "wrong");
}

// Findings and problems at their lines in the editor.
function mark() {
  const problems = latest.problems.map((each) => ({
    ...each,
    level: "error",
    words: each.instead ? `${each.message}: ${each.instead}` : each.message,
  }));
  const findings = latest.findings
    .filter((each) => !each.accepted)
    .flatMap((each) =>
      each.places.map((place) => ({
        ...place,
        level: each.level,
        words: `${each.number}. ${each.hazard}: ${each.headline}. ${each.remedy}`,
      })),
    );
  editor.mark([...problems, ...findings].filter((each) => each.file === desk.shown));
}

async function change(call, argument, word, doing) {
  status(doing);
  try {
    const made = await ask(call, argument);
    open(desk.plan);
    const before = editor.text;
    if (!made.nothing) editor.replace(made.text);
    const after = editor.text;
    status("");
    showChange(made, word, () => {
      open(desk.plan);
      if (editor.text === after) editor.replace(before);
      else editor.undo();
    });
  } catch (error) {
    status(error.message, "wrong");
    if (!(error instanceof Refused || error instanceof Stopped)) failed(error);
  }
}

function mend(numbers) {
  return change("mend", numbers, "WARNING", "Trying remedies…");
}

function choose(layout) {
  return change("choose", layout, "CAUTION", "Choosing: each value is tried…");
}

async function share() {
  const hash = await packed(desk);
  history.replaceState(null, "", `#${hash}`);
  const field = named("address");
  field.value = location.href;
  named("address-row").hidden = false;
  field.focus();
  field.select();
  const copied = await navigator.clipboard?.writeText(location.href).then(() => true, () => false);
  status(
    copied
      ? "Copied: an address that holds the whole plan. Whoever has it can read it."
      : "Copy this address: it holds the whole plan. Whoever has it can read it.",
  );
}

async function fromAddress() {
  try {
    const found = await unpacked(location.hash);
    if (!found) return;
    lay(found, "This plan came with the address of the page: somebody else may have written it.");
  } catch (error) {
    if (!(error instanceof NotReadable)) throw error;
    begin();
    status(`The address of this page holds no plan that can be read: ${error.message}.`, "wrong");
  }
}

function begin() {
  named("start").hidden = false;
  named("work").hidden = true;
  if (location.hash) history.replaceState(null, "", "#");
  offerLast();
  status("");
  named("start-head").focus();
}

function offerLast() {
  const last = readLast();
  named("last").hidden = !last;
  if (last) named("last-name").textContent = last.plan;
}

async function openFiles(event) {
  const list = [...event.target.files];
  event.target.value = "";
  if (!list.length) return;
  try {
    lay(await opened(list));
  } catch (error) {
    status(error.message, "wrong");
  }
}

function keepOffline() {
  if (location.protocol.startsWith("http") && "serviceWorker" in navigator) {
    navigator.serviceWorker.register("service-worker.js").catch(() => {});
  }
}

// A first check while somebody still reads: what it loads is there for theirs.
function warm(example) {
  engine.call("check", { ...example, with: [] }).catch(() => {});
}

function wire() {
  named("files").addEventListener("change", openFiles);
  named("file").addEventListener("change", (event) => open(event.target.value));
  named("mend-all").addEventListener("click", () => mend([]));
  named("choose").addEventListener("click", () => choose(""));
  named("undo").addEventListener("click", () => editor.undo());
  named("save").addEventListener("click", () => {
    save(desk.shown, desk.files[desk.shown], "application/yaml");
  });
  named("share").addEventListener("click", share);
  named("again").addEventListener("click", begin);
  named("last-open").addEventListener("click", () => lay(readLast()));
  named("last-forget").addEventListener("click", () => {
    forgetLast();
    offerLast();
  });
  named("ask").addEventListener("toggle", (event) => event.target.open && questions.fill());
  addEventListener("hashchange", fromAddress);
}

async function run() {
  wire();
  offerLast();
  status("Starting: this takes a few seconds.");
  fromAddress();
  try {
    const [, examples] = await Promise.all([engine.start(), partAsJson("examples"), loadSchema()]);
    listExamples(examples, (example) => lay(example));
    if (named("work").hidden) status("Ready.");
    document.documentElement.dataset.ready = "yes";
    keepOffline();
    if (named("work").hidden) warm(examples[0]);
  } catch (error) {
    status(error.message, "wrong");
  }
}

globalThis.wattproofPage = { engine, desk, lay };
run();
