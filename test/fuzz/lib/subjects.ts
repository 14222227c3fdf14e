import type { Forms } from './form.js';
import type { Properties } from './property.js';

/** Everything that is tried. */
export interface Subjects {
  readonly properties: Properties;
  readonly forms: Forms;
}

/** The library's own, or those of a module alone. */
export async function loadSubjects(extra: string | null): Promise<Subjects> {
  if (extra === null) {
    // Here and not at the top: they bring the whole library, which other subjects do without.
    const [{ PROPERTIES }, { FORMS }] = await Promise.all([
      import('../properties/index.js'),
      import('../forms/index.js'),
    ]);
    return { properties: PROPERTIES, forms: FORMS };
  }
  const module = (await import(extra)) as { PROPERTIES: Properties; FORMS: Forms };
  return { properties: module.PROPERTIES, forms: module.FORMS };
}
