// The editor: the text of a file, with findings at their lines, completion and explanations.
//
// It stands in a shadow of the page, so that its styles are handed over as sheets. The tabulator
// key leaves it, as it leaves any field.

import { autocompletion, closeBrackets, completionKeymap } from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, undo } from "@codemirror/commands";
import { yaml } from "@codemirror/lang-yaml";
import { HighlightStyle, bracketMatching, syntaxHighlighting } from "@codemirror/language";
import { lintGutter, lintKeymap, setDiagnostics } from "@codemirror/lint";
import { highlightSelectionMatches, searchKeymap } from "@codemirror/search";
import { EditorState, Transaction } from "@codemirror/state";
import {
  EditorView,
  drawSelection,
  highlightActiveLine,
  hoverTooltip,
  keymap,
  lineNumbers,
} from "@codemirror/view";
import { tags } from "@lezer/highlight";

import { coded, make } from "./dom.js";
import { contextAt, meaning, proposals } from "./schema.js";

const LEVELS = { error: "error", warning: "warning", note: "info" };

const colours = syntaxHighlighting(
  HighlightStyle.define([
    { tag: tags.comment, color: "var(--soft)", fontStyle: "italic" },
    { tag: [tags.propertyName, tags.definition(tags.propertyName)], color: "var(--link)" },
    { tag: [tags.string, tags.content], color: "var(--ink)" },
    { tag: [tags.punctuation, tags.separator, tags.bracket], color: "var(--soft)" },
  ]),
);

const look = EditorView.theme({
  "&": {
    height: "100%", // so that it scrolls, and a line that is asked for comes into sight
    color: "var(--ink)",
    backgroundColor: "var(--ground)",
    fontSize: "0.9rem",
  },
  "&.cm-focused": { outline: "3px solid var(--link)", outlineOffset: "1px" },
  ".cm-scroller": { fontFamily: '"DejaVu Sans Mono", Consolas, monospace', lineHeight: "1.5" },
  ".cm-content": { caretColor: "var(--ink)" },
  ".cm-cursor": { borderLeftColor: "var(--ink)" },
  ".cm-gutters": { backgroundColor: "var(--faint)", color: "var(--soft)", border: "0" },
  ".cm-activeLine, .cm-activeLineGutter": { backgroundColor: "var(--faint)" },
  "&.cm-focused .cm-selectionBackground, .cm-selectionBackground": {
    backgroundColor: "var(--chosen) !important",
  },
  ".cm-tooltip": {
    backgroundColor: "var(--ground)",
    color: "var(--ink)",
    border: "1px solid var(--soft)",
    maxWidth: "min(30rem, 92vw)",
  },
  ".cm-tooltip-autocomplete ul li[aria-selected]": {
    backgroundColor: "var(--link)",
    color: "var(--ground)",
  },
  ".cm-diagnostic-error": { borderLeftColor: "var(--error)" },
  ".cm-diagnostic-warning": { borderLeftColor: "var(--warning)" },
  ".cm-panels": { backgroundColor: "var(--faint)", color: "var(--ink)" },
  ".explained": { padding: "0.4rem 0.6rem" },
});

function completed(context) {
  const typed = context.matchBefore(/[\w-]+$/);
  if (!typed && !context.explicit) return null;
  const found = proposals(context.state.doc.toString(), context.pos);
  return found && { ...found, validFor: /^[\w-]*$/ };
}

const explained = hoverTooltip((view, pos) => {
  const line = view.state.doc.lineAt(pos);
  const after = line.text.slice(pos - line.from).match(/^[\w-]*\s*:?/)[0];
  const end = pos + after.length;
  const { path } = contextAt(view.state.doc.toString(), end);
  const found = meaning(path);
  if (!found) return null;
  const dom = make("div", { class: "explained" }, make("strong", {}, found.key), ": ", found.description);
  if (found.example) dom.append(make("br"), "Such as ", make("code", {}, found.example));
  return { pos, end, above: true, create: () => ({ dom }) };
});

// A file keeps the ends of its lines.
function separator(text) {
  const isOther = text.includes("\r\n") && !/(^|[^\r])\n/.test(text);
  return isOther ? EditorState.lineSeparator.of("\r\n") : [];
}

export class Editor {
  // changed: called with the text after each change that somebody made, or that was undone.
  constructor(host, changed) {
    this.changed = changed;
    this.root = host.attachShadow({ mode: "open" });
    const parent = document.createElement("div");
    parent.style.height = "100%";
    this.root.append(parent);
    this.view = new EditorView({ state: this.#state(""), parent, root: this.root });
  }

  #state(text) {
    return EditorState.create({
      doc: text,
      extensions: [
        look,
        colours,
        lineNumbers(),
        lintGutter(),
        history(),
        drawSelection(),
        highlightActiveLine(),
        bracketMatching(),
        closeBrackets(),
        highlightSelectionMatches(),
        yaml(),
        autocompletion({ override: [completed] }),
        explained,
        EditorView.lineWrapping,
        EditorState.tabSize.of(2),
        separator(text),
        EditorView.contentAttributes.of({
          "aria-label": "The plan. The tabulator key leaves the editor.",
          spellcheck: "false",
        }),
        keymap.of([
          ...completionKeymap,
          ...lintKeymap,
          ...searchKeymap,
          ...historyKeymap,
          ...defaultKeymap,
        ]),
        EditorView.updateListener.of((update) => {
          if (update.docChanged) this.changed(this.text);
        }),
      ],
    });
  }

  get text() {
    return this.view.state.sliceDoc();
  }

  // Another file: nothing of the one before can be undone in it.
  open(text) {
    this.view.setState(this.#state(text));
  }

  // A change to undo as one.
  replace(text) {
    const old = this.view.state.doc.toString();
    text = text.replaceAll("\r\n", "\n");
    let from = 0;
    while (from < old.length && old[from] === text[from]) from += 1;
    let end = 0;
    const most = Math.min(old.length, text.length) - from;
    while (end < most && old.at(-1 - end) === text.at(-1 - end)) end += 1;
    this.view.dispatch({
      changes: { from, to: old.length - end, insert: text.slice(from, text.length - end) },
      annotations: [Transaction.userEvent.of("input.apply"), Transaction.addToHistory.of(true)],
    });
  }

  undo() {
    undo(this.view);
  }

  // Findings and problems: [{ line, column, end_line, end_column, level, words }].
  mark(found) {
    const marks = found.map((each) => {
      const from = this.#offset(each.line, each.column);
      const to = Math.max(from, this.#offset(each.end_line, each.end_column));
      return {
        from,
        to,
        severity: LEVELS[each.level],
        message: each.words,
        renderMessage: () => make("span", {}, coded(each.words)),
      };
    });
    marks.sort((one, other) => one.from - other.from);
    this.view.dispatch(setDiagnostics(this.view.state, marks));
  }

  // Lead the eye and the cursor to a place.
  show(line, column) {
    const at = this.#offset(line, column);
    this.view.dispatch({
      selection: { anchor: at },
      effects: EditorView.scrollIntoView(at, { y: "center" }),
    });
    this.view.focus();
  }

  #offset(line, column) {
    const doc = this.view.state.doc;
    if (line > doc.lines) return doc.length;
    const at = doc.line(Math.max(1, line));
    // columns count characters, the editor counts halves of them
    const before = [...at.text].slice(0, Math.max(0, column - 1)).join("").length;
    return Math.min(at.from + before, at.to);
  }
}
