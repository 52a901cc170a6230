// The parts that the page loads beside itself. Each is a script that hands over a compressed text,
// since a page that was opened from a disk may load nothing else.

const arrived = new Map();

globalThis.wattproofPart = (name, text) => arrived.set(name, text);

// The bytes of a part. Each is loaded once, and kept compressed for a second start.
export async function part(name) {
  if (!arrived.has(name)) await loaded(name);
  const packed = Uint8Array.from(atob(arrived.get(name)), (sign) => sign.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
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
