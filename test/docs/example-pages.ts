/** What a page promises about its script, read from its Markdown. */
export interface ExamplePage {
  /** The lines of the page that start the script. */
  readonly commands: readonly string[];
  /** The texts that the page shows as its output; a sound page has one. */
  readonly outputs: readonly string[];
}

/** Reads a page of docs/examples; a block of shell commands and one of text are told by their fence. */
export function readPage(markdown: string): ExamplePage {
  const blocks = [...markdown.matchAll(/^```(\w*)[^\S\n]*\n([\s\S]*?)^```[^\S\n]*$/gm)];
  return {
    commands: [...markdown.matchAll(/npx tsx examples\/\S+\.ts/g)].map(([command]) => command),
    outputs: blocks.filter(([, language]) => language === 'text').map(([, , text]) => text as string),
  };
}

/** The pages of docs/examples that an index page links to, by name, in its order. */
export function linkedPages(markdown: string): readonly string[] {
  return [...markdown.matchAll(/\]\(examples\/([^)\s]+)\.md\)/g)].map(([, name]) => name as string);
}
