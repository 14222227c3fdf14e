import type { Forms } from '../lib/form.js';
import { TEXT_FORMS } from './text-forms.js';
import { VALUE_FORMS } from './value-forms.js';
import { WAV_FORMS } from './wav-forms.js';

/** Every form in which data comes from outside, by its name. */
export const FORMS: Forms = { ...TEXT_FORMS, ...VALUE_FORMS, ...WAV_FORMS };
