/** The element with an id, of the kind that the page has there; throws where the page and the code disagree. */
export function element<Kind extends HTMLElement>(id: string, kind: new () => Kind): Kind {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new Error(`the page has no ${kind.name} with the id ${id}`);
  return found;
}

/** Sets a text where it differs, so that screen readers do not read it again. */
export function setText(node: HTMLElement, text: string): void {
  if (node.textContent !== text) node.textContent = text;
}

/** Offers bytes or text as a file to keep. */
export function download(content: Blob | string, fileName: string, type: string = 'text/plain'): void {
  const url = URL.createObjectURL(typeof content === 'string' ? new Blob([content], { type }) : content);
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName;
  link.click();
  // The browser has its own hold on it by then.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
