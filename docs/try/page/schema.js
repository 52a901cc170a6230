// What the schema of a plan says of the place where somebody writes.

import { partAsJson } from "./parts.js";

let schema = null;

export async function loadSchema() {
  schema ??= await partAsJson("schema");
}

// The keys that lead to an offset, the word that is being written there, and whether it is a value.
export function contextAt(text, offset) {
  const blocks = [];
  let flow = [];
  let waits = null;
  const lines = text.slice(0, offset).split("\n");
  lines.forEach((whole, number) => {
    const isLast = number === lines.length - 1;
    const line = withoutComment(whole);
    let at = 0;
    if (!flow.length) {
      if (!line.trim() && !isLast) return;
      const indent = line.match(/^ */)[0].length;
      while (blocks.length && blocks.at(-1).indent >= indent) blocks.pop();
      waits = null;
      const found = line.slice(indent).match(/^((?:- )*)("[^"]*"|[^\s:#{}[\],"'][^:#{}[\],]*?)\s*:(?=\s|$)/);
      if (found) {
        const keyAt = indent + found[1].length;
        while (blocks.length && blocks.at(-1).indent >= keyAt) blocks.pop();
        blocks.push({ indent: keyAt, key: found[2].replaceAll('"', "") });
        waits = true;
        at = indent + found[0].length;
      }
    }
    flow = throughFlow(line.slice(at), flow);
  });
  const last = lines.at(-1);
  const word = last.match(/[\w%°µ./-]*$/)[0];
  const path = blocks.map((each) => each.key);
  for (const each of flow) if (each.key !== null) path.push(each.key);
  const inFlow = flow.at(-1);
  const isValue = inFlow ? inFlow.kind === "list" || inFlow.key !== null : waits === true;
  return { path, word, isValue };
}

function withoutComment(line) {
  return line.replace(/(^|\s)#.*$/, "$1");
}

// The braces and brackets that are open after a piece of a line. Each holds the key before its value.
function throughFlow(piece, before) {
  const flow = before.map((each) => ({ ...each }));
  let token = "";
  for (let at = 0; at < piece.length; at += 1) {
    const sign = piece[at];
    const top = flow.at(-1);
    if (sign === "{" || sign === "[") {
      flow.push({ kind: sign === "{" ? "map" : "list", key: null });
      token = "";
    } else if (sign === "}" || sign === "]") {
      flow.pop();
      token = "";
    } else if (top && sign === ",") {
      if (top.kind === "map") top.key = null;
      token = "";
    } else if (top?.kind === "map" && sign === ":" && /^(\s|$)/.test(piece.slice(at + 1))) {
      top.key = token.trim().replaceAll('"', "");
      token = "";
    } else {
      token += sign;
    }
  }
  return flow;
}

// The schemas that may hold at the end of a path.
function schemasAt(path) {
  let here = spread(schema);
  for (const key of path) {
    here = here.flatMap((each) => {
      const named = each.properties?.[key];
      if (named) return spread(named);
      const more = each.additionalProperties;
      return more && typeof more === "object" ? spread(more) : [];
    });
  }
  return here;
}

// A schema with all that it refers to and all its ways; of lists, what they hold.
function spread(node, depth = 0) {
  if (!node || typeof node !== "object" || depth > 12) return [];
  if (node.$ref) {
    const held = schema.$defs[node.$ref.split("/").pop()];
    const own = node.description ? [{ description: node.description }] : [];
    return [...own, ...spread(held, depth + 1)];
  }
  const found = [node];
  for (const way of [...(node.anyOf ?? []), ...(node.oneOf ?? []), ...(node.allOf ?? [])]) {
    found.push(...spread(way, depth + 1));
  }
  if (node.items) found.push(...spread(node.items, depth + 1));
  return found;
}

// What may be written at an offset: { from, options: [{ label, detail, info, apply }] }.
export function proposals(text, offset) {
  if (!schema) return null;
  const { path, word, isValue } = contextAt(text, offset);
  const here = schemasAt(path);
  const from = offset - word.length;
  if (isValue) {
    const words = here.flatMap((each) => [...(each.enum ?? []), ...("const" in each ? [each.const] : [])]);
    const options = [...new Set(words.map(String))].map((label) => ({ label, type: "constant" }));
    return options.length ? { from, options } : null;
  }
  const keys = new Map();
  for (const each of here) {
    for (const [key, held] of Object.entries(each.properties ?? {})) {
      if (!keys.has(key)) keys.set(key, { held, needed: each.required?.includes(key) });
    }
  }
  const options = [...keys].map(([label, { held, needed }]) => ({
    label,
    type: "property",
    apply: `${label}: `,
    detail: needed ? "needed" : "",
    info: spread(held).find((each) => each.description)?.description,
  }));
  return options.length ? { from, options } : null;
}

// What a key means: { description, examples }, or null.
export function meaning(path) {
  if (!schema || !path.length) return null;
  const here = schemasAt(path);
  const description = here.find((each) => each.description)?.description;
  if (!description) return null;
  const example = here.find((each) => each.examples)?.examples[0];
  return {
    key: path.at(-1),
    description,
    example: example == null ? "" : typeof example === "string" ? example : JSON.stringify(example),
  };
}
