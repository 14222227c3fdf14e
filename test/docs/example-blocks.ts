import ts from 'typescript';
import type { SourceFile } from '../lib/project.js';

/** A piece of code from the documentation. */
export interface ExampleBlock {
  readonly path: string;
  /** Line of the file on which the code begins, from 1. */
  readonly line: number;
  readonly code: string;
}

/** The code below every `@example` in the doc comments of a source file. */
export function docBlocks({ path, text }: SourceFile): readonly ExampleBlock[] {
  const blocks: ExampleBlock[] = [];
  for (const comment of text.matchAll(/\/\*\*[\s\S]*?\*\//g)) {
    const first = lineAt(text, comment.index);
    const lines = comment[0]
      .split('\n')
      .map((line) => line.replace(/^\s*\*(\/| ?)/, '').replace(/\s*\*\/$/, ''));
    for (let i = 0; i < lines.length; i++) {
      if (!/^\s*@example\b/.test(lines[i] as string)) continue;
      let end = i + 1;
      while (end < lines.length && !/^\s*@[a-z]+\b/i.test(lines[end] as string)) end++;
      const code = lines.slice(i + 1, end).filter((line) => !/^\s*```/.test(line));
      blocks.push({ path, line: first + i + 1, code: code.join('\n') });
      i = end - 1;
    }
  }
  return blocks;
}

/** Every fenced block of a Markdown file that says it is TypeScript. */
export function markdownBlocks({ path, text }: SourceFile): readonly ExampleBlock[] {
  return [...text.matchAll(/^```(?:ts|typescript)[^\S\n]*\n([\s\S]*?)^```[^\S\n]*$/gm)].map((match) => ({
    path,
    line: lineAt(text, match.index) + 1,
    code: match[1] as string,
  }));
}

/** A statement with the result that the comment after it promises. */
interface Promised {
  readonly statement: ts.Statement;
  readonly expression: string;
  readonly expected: string;
  readonly line: number;
}

/** A block made ready to run: code that calls `check(value, index)` for each promise, and the promises. */
export interface RunnableExample {
  readonly javascript: string;
  readonly promises: readonly { readonly expected: string; readonly line: number }[];
}

/**
 * Turns a block into the body of an async function with `require` and `check` at hand. A promise is `// => value` after a statement, on its
 * line or alone on the next: of the expression, of what console.log is given, or of the one name that is declared.
 */
export function runnable(block: ExampleBlock): RunnableExample {
  const source = ts.createSourceFile('example.ts', block.code, ts.ScriptTarget.ES2022, true);
  const promised = source.statements.flatMap((statement) => promiseAfter(statement, source, block.line));
  const marks = block.code.match(/\/\/ =>/g)?.length ?? 0;
  if (marks !== promised.length)
    throw new Error(
      `${block.path}:${block.line}: ${marks} results are written, ${promised.length} follow a statement`,
    );
  let code = block.code;
  for (let i = promised.length - 1; i >= 0; i--) {
    const { statement, expression } = promised[i] as Promised;
    const declaration = ts.isVariableStatement(statement) ? `${statement.getText(source)}\n` : '';
    code = `${code.slice(0, statement.getStart(source))}${declaration}check(${expression}, ${i});${code.slice(statement.end)}`;
  }
  const { outputText } = ts.transpileModule(code, {
    compilerOptions: {
      target: ts.ScriptTarget.ES2022,
      module: ts.ModuleKind.CommonJS,
      esModuleInterop: true,
    },
  });
  return { javascript: outputText, promises: promised.map(({ expected, line }) => ({ expected, line })) };
}

function promiseAfter(
  statement: ts.Statement,
  source: ts.SourceFile,
  firstLine: number,
): readonly Promised[] {
  const after = source.text.slice(statement.end);
  const match = after.match(/^[^\S\n]*(?:\n[^\S\n]*)?\/\/ =>[^\S\n]*(.*)/);
  const expression = match === null ? undefined : subject(statement, source);
  if (match === null || expression === undefined) return [];
  const line = firstLine + source.getLineAndCharacterOfPosition(statement.end).line;
  return [{ statement, expression, expected: (match[1] as string).trim(), line }];
}

/** What a statement's promise is about. */
function subject(statement: ts.Statement, source: ts.SourceFile): string | undefined {
  if (ts.isVariableStatement(statement)) {
    const [only, ...others] = statement.declarationList.declarations;
    return only !== undefined && others.length === 0 && ts.isIdentifier(only.name)
      ? only.name.text
      : undefined;
  }
  if (!ts.isExpressionStatement(statement)) return undefined;
  const { expression } = statement;
  const logged =
    ts.isCallExpression(expression) && expression.expression.getText(source) === 'console.log'
      ? expression.arguments[0]
      : undefined;
  return (logged ?? expression).getText(source);
}

function lineAt(text: string, index: number): number {
  return text.slice(0, index).split('\n').length;
}
