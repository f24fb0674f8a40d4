/** Everything a sheet needs to open without the program: its elements as they stand, the style, and the font inside the style. */
export async function selfContained(source: Document, fetch: (path: string) => Promise<Response>): Promise<string> {
  const page = source.documentElement.cloneNode(true) as HTMLElement;
  for (const gone of page.querySelectorAll('script, link[rel="icon"], link[rel="modulepreload"], noscript, .screen, .skip')) gone.remove();
  for (const details of page.querySelectorAll('details')) details.setAttribute('open', '');
  for (const button of page.querySelectorAll('button')) {
    const text = source.createElement('span');
    text.className = button.className;
    text.append(...button.childNodes);
    button.replaceWith(text); // there is nothing to press in a paper
  }
  for (const slider of page.querySelectorAll('[role="slider"]')) {
    slider.setAttribute('role', 'img');
    slider.setAttribute('aria-label', `${slider.getAttribute('aria-label') ?? ''}: ${slider.getAttribute('aria-valuetext') ?? ''}`);
    for (const name of ['tabindex', 'aria-valuemin', 'aria-valuemax', 'aria-valuenow', 'aria-valuetext']) slider.removeAttribute(name);
  }
  const style = source.createElement('style');
  for (const link of page.querySelectorAll<HTMLLinkElement>('link[rel="stylesheet"]')) {
    const css = await (await fetch(link.getAttribute('href') ?? '')).text();
    style.textContent = (style.textContent ?? '') + (await withFonts(css, link.getAttribute('href') ?? '', fetch));
    link.remove();
  }
  page.querySelector('head')?.append(style);
  return `<!doctype html>\n${page.outerHTML}\n`;
}

/** Style with every file it names put inside. */
async function withFonts(css: string, href: string, fetch: (path: string) => Promise<Response>): Promise<string> {
  let out = css;
  for (const match of css.matchAll(/url\((['"]?)([^'")]+\.woff2)\1\)/g)) {
    const [whole, , path] = match;
    if (!path) continue;
    const url = new URL(path, new URL(href, 'http://page/')).pathname;
    const bytes = new Uint8Array(await (await fetch(url)).arrayBuffer());
    out = out.replace(whole, `url(data:font/woff2;base64,${base64(bytes)})`);
  }
  return out;
}

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text);
}

/** A name for the file: rig, sheet and day, in letters that every system takes. */
export function fileName(rig: string, question: string, day: string): string {
  const plain = (text: string): string => text.normalize('NFKD').replace(/[^A-Za-z0-9 -]/g, '').trim().replace(/ +/g, '-').toLowerCase();
  return [rig, question, day].map(plain).filter(Boolean).join('_') + '.html';
}

/** Hands a text to the reader as a file. */
export function download(name: string, text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'text/html' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  window.setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
