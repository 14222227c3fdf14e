import ts from 'typescript';

/** What a test file declares, as far as its text tells. */
export interface TestTitle {
  /** Matches the titles from the outermost group to the test, with " > " between; what is put together at run time matches anything. */
  readonly pattern: RegExp;
  /** Skipped, left to be done or expected to fail, or inside a group that is: such a test holds nothing. */
  readonly isIdle: boolean;
}

const IDLE = ['skip', 'todo', 'fails'];

/** The tests of a file, by its syntax tree: nothing is run. */
export function testTitles(path: string, text: string): readonly TestTitle[] {
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true);
  const titles: TestTitle[] = [];
  const visit = (node: ts.Node, groups: readonly string[], isIdle: boolean): void => {
    const call = ts.isCallExpression(node) ? declaration(node) : undefined;
    if (call === undefined) {
      ts.forEachChild(node, (child) => visit(child, groups, isIdle));
      return;
    }
    const path = [...groups, call.title];
    const idle = isIdle || call.isIdle;
    if (call.isGroup) for (const part of call.parts) visit(part, path, idle);
    else titles.push({ pattern: new RegExp(`^${path.join(' > ')}$`, 's'), isIdle: idle });
  };
  visit(source, [], false);
  return titles;
}

interface Declaration {
  readonly title: string;
  readonly isGroup: boolean;
  readonly isIdle: boolean;
  readonly parts: readonly ts.Node[];
}

/** A call of describe, it or test, however it is dressed: it.each(rows)(title, run), test.skipIf(condition)(title, run). */
function declaration(call: ts.CallExpression): Declaration | undefined {
  const [first, ...parts] = call.arguments;
  if (first === undefined || parts.length === 0) return undefined;
  const names: string[] = [];
  let callee: ts.Expression = call.expression;
  while (!ts.isIdentifier(callee)) {
    if (ts.isPropertyAccessExpression(callee)) names.push(callee.name.text);
    else if (!ts.isCallExpression(callee)) return undefined;
    callee = callee.expression;
  }
  if (!['describe', 'it', 'test'].includes(callee.text)) return undefined;
  const title = titlePattern(first);
  return {
    title,
    isGroup: callee.text === 'describe',
    isIdle: names.some((name) => IDLE.includes(name)),
    parts,
  };
}

function titlePattern(title: ts.Expression): string {
  if (ts.isStringLiteral(title) || ts.isNoSubstitutionTemplateLiteral(title)) return escaped(title.text);
  if (!ts.isTemplateExpression(title)) return '.+';
  return (
    escaped(title.head.text) + title.templateSpans.map(({ literal }) => `.*${escaped(literal.text)}`).join('')
  );
}

/** Text to be matched as it is, but for the places of it.each, %s and the like. */
function escaped(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&').replace(/%[sdifjo]/g, '.*');
}
