/** As much of Node's Buffer as tests use that also run in a page. A function, since others ask what is an instance of it. */
function PageBuffer(): void {}

PageBuffer.from = (text: string, encoding: string): Uint8Array => {
  if (encoding !== 'base64') throw new Error(`a page's Buffer knows base64 alone, not ${encoding}`);
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
};

Object.assign(globalThis, { Buffer: PageBuffer });
