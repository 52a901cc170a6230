// Documents of the program in frames that run no script.
//
// The program has escaped what the plan says; the frame lets nothing run all the same. Styles are
// handed over as sheets, since the policy of this page takes none that stand in a document.

export function framed(title) {
  const frame = document.createElement("iframe");
  frame.title = title;
  frame.setAttribute("sandbox", "allow-same-origin allow-modals");
  return frame;
}

// Show a document of the program in a frame as high as it is.
export function show(frame, html) {
  return new Promise((resolve) => {
    const styles = [];
    // texts of a plan are escaped in it, so that these are its own elements and no others
    const bare = html
      .replace(/<style>([^]*?)<\/style>/g, (_, style) => (styles.push(style), ""))
      .replace(/<script>[^]*?<\/script>/g, "")
      .replace(/<meta http-equiv="[^]*?>/g, "");
    frame.onload = () => {
      const inner = frame.contentWindow;
      const sheet = new inner.CSSStyleSheet();
      sheet.replaceSync(styles.join("\n"));
      inner.document.adoptedStyleSheets = [sheet];
      fit(frame);
      resolve();
    };
    frame.srcdoc = bare;
  });
}

export function fit(frame) {
  const body = frame.contentDocument?.documentElement;
  if (body) frame.style.height = `${Math.min(body.scrollHeight + 24, 20_000)}px`;
}

// A picture as a document: dark where the screen is.
export function pictured(svg) {
  return (
    '<!DOCTYPE html><html lang="en"><head><meta name="color-scheme" content="light dark">' +
    "<style>body { margin: 0; overflow-x: auto; } svg { display: block; }</style></head>" +
    `<body>${svg}</body></html>`
  );
}

export function print(frame) {
  frame.contentWindow.focus();
  frame.contentWindow.print();
}
