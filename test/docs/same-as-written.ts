import ts from 'typescript';

/**
 * What differs between a value and a result written as a literal, or undefined. A number written with two decimals or
 * more may be rounded to them; one with fewer must be exact to 1e-12 of itself, so that `0.1` does not pass for 0.14.
 */
export function differenceFrom(written: string, value: unknown): string | undefined {
  const source = ts.createSourceFile('value.ts', `(${written}\n)`, ts.ScriptTarget.ES2022, true);
  const [statement, ...rest] = source.statements;
  if (statement === undefined || rest.length > 0 || !ts.isExpressionStatement(statement))
    return `\`${written}\` is not one value`;
  return compare(statement.expression, value, 'value');
}

function compare(node: ts.Expression, value: unknown, path: string): string | undefined {
  if (ts.isParenthesizedExpression(node)) return compare(node.expression, value, path);
  const number = numberOf(node);
  if (number !== undefined) return compareNumber(number, value, path);
  if (ts.isStringLiteralLike(node)) return node.text === value ? undefined : unlike(path, value, node);
  if (ts.isArrayLiteralExpression(node)) return compareList(node, value, path);
  if (ts.isObjectLiteralExpression(node)) return compareObject(node, value, path);
  const plain = new Map<string, unknown>([
    ['true', true],
    ['false', false],
    ['null', null],
    ['undefined', undefined],
  ]);
  const text = node.getText();
  if (!plain.has(text)) return `\`${text}\` is no literal that can be compared`;
  return plain.get(text) === value ? undefined : unlike(path, value, node);
}

/** The digits of a number as they are written, with its sign. */
function numberOf(node: ts.Expression): string | undefined {
  if (ts.isNumericLiteral(node)) return node.getText().replaceAll('_', '');
  if (ts.isIdentifier(node) && (node.text === 'Infinity' || node.text === 'NaN')) return node.text;
  if (ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.MinusToken) {
    const positive = numberOf(node.operand);
    return positive === undefined ? undefined : `-${positive}`;
  }
  return undefined;
}

function compareNumber(written: string, value: unknown, path: string): string | undefined {
  const expected = Number(written);
  const wrong = `${path} is ${show(value)}, written ${written}`;
  if (typeof value !== 'number') return wrong;
  if (Object.is(value, expected) || (value === 0 && expected === 0)) return undefined;
  const decimals = written.match(/\.(\d+)$/)?.[1]?.length ?? 0;
  const rounding = decimals >= 2 ? 0.5 * 10 ** -decimals : 0;
  return Math.abs(value - expected) <= rounding + 1e-12 * Math.abs(expected) ? undefined : wrong;
}

function compareList(node: ts.ArrayLiteralExpression, value: unknown, path: string): string | undefined {
  const isList = Array.isArray(value) || (ArrayBuffer.isView(value) && !(value instanceof DataView));
  if (!isList) return unlike(path, value, node);
  const items = Array.from(value as ArrayLike<unknown>);
  if (items.length !== node.elements.length)
    return `${path} has ${items.length} items, ${node.elements.length} are written: ${show(value)}`;
  return firstOf(node.elements.map((element, i) => () => compare(element, items[i], `${path}[${i}]`)));
}

function compareObject(node: ts.ObjectLiteralExpression, value: unknown, path: string): string | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return unlike(path, value, node);
  const fields = node.properties.map((property) => {
    if (!ts.isPropertyAssignment(property)) throw new Error(`${node.getText()} is not written out`);
    const name = ts.isStringLiteral(property.name) ? property.name.text : property.name.getText();
    return { name, initializer: property.initializer };
  });
  const there = Object.keys(value).sort().join(', ');
  const written = fields
    .map(({ name }) => name)
    .sort()
    .join(', ');
  if (there !== written) return `${path} has the fields ${there}; ${written} are written`;
  const record = value as Readonly<Record<string, unknown>>;
  return firstOf(
    fields.map(
      ({ name, initializer }) =>
        () =>
          compare(initializer, record[name], `${path}.${name}`),
    ),
  );
}

function firstOf(checks: readonly (() => string | undefined)[]): string | undefined {
  for (const check of checks) {
    const difference = check();
    if (difference !== undefined) return difference;
  }
  return undefined;
}

function unlike(path: string, value: unknown, node: ts.Node): string {
  return `${path} is ${show(value)}, written ${node.getText()}`;
}

function show(value: unknown): string {
  if (typeof value === 'number' || value === undefined) return String(value);
  return (JSON.stringify(value) ?? String(value)).slice(0, 200);
}
