import { describe, expect, it } from 'vitest';
import { fileName, selfContained } from './save';

describe('a sheet saved as one file', () => {
  it('holds style and font, asks for nothing, and keeps what was shown', async () => {
    const page = new DOMParser().parseFromString(
      `<!doctype html><html data-light="day"><head><link rel="stylesheet" href="/assets/style-1.css"><script type="module" src="/assets/a.js"></script><link rel="icon" href="/icon.svg"></head>
       <body><button class="screen">Undo</button><details><summary>battery</summary><p>why</p></details><td><button class="value">100 Ah</button></td>
       <svg role="slider" tabindex="0" aria-label="Battery" aria-valuetext="lowest 20 %" aria-valuenow="3"></svg></body></html>`,
      'text/html',
    );
    const asked: string[] = [];
    const text = await selfContained(page, (path) => {
      asked.push(path);
      return Promise.resolve(new Response(path.endsWith('.css') ? '@font-face{src:url(inter.woff2)} p{color:red}' : new Uint8Array([1, 2, 3])));
    });
    expect(asked).toEqual(['/assets/style-1.css', '/assets/inter.woff2']);
    expect(text).toContain('url(data:font/woff2;base64,AQID)');
    expect(text).toContain('100 Ah');
    expect(text).toContain('Battery: lowest 20 %');
    expect(text).toMatch(/<details[^>]* open/);
    expect(text).not.toMatch(/<script|<button|Undo|href="\/|src="\/|tabindex/);
    expect(page.querySelector('script'), 'the page itself is left alone').not.toBeNull();
  });

  it('is named for rig, sheet and day', () => {
    expect(fileName('Juniper House', 'Will it last?', '25 November 2026')).toBe('juniper-house_will-it-last_25-november-2026.html');
    expect(fileName('Größe / ☃', '', '')).toBe('groe.html');
  });
});
