// The parts that the page loads beside itself. Each is a script that hands over a compressed text,
// since a page that was opened from a disk may load nothing else.

const arrived = new Map();

globalThis.wattproofPart = (name, text) => arrived.set(name, text);

// The bytes of a part. Each is loaded once, and kept compressed for a second start.
export async function part(name) {
  if (!arrived.has(name)) await loaded(name);
  const packed = decoded(arrived.get(name));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

// By hand where the browser does not have it: several times as fast as any other way there.
function decoded(text) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
  const plain = atob(text);
  const bytes = new Uint8Array(plain.length);
  for (let at = 0; at < plain.length; at += 1) bytes[at] = plain.charCodeAt(at);
  return bytes;
}

export async function partAsJson(name) {
  return JSON.parse(new TextDecoder().decode(await part(name)));
}

function loaded(name) {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = `parts/${name}.js`;
    script.onload = () => {
      script.remove();
      if (arrived.has(name)) resolve();
      else reject(new Error(`parts/${name}.js is not what it should be: copy the folder anew`));
    };
    script.onerror = () => {
      script.remove();
      reject(new Error(`parts/${name}.js cannot be loaded: keep the folder of this page whole`));
    };
    document.head.append(script);
  });
}
