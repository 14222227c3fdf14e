import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bundledPackages, notices } from '../../.ci/third-party-notices.js';
import { ROOT } from '../lib/project.js';

describe('THIRD-PARTY-NOTICES.md', () => {
  it('holds the licence of every bundled package as installed; `npm run notices` writes it anew', () => {
    expect(bundledPackages()).toContain('fft.js');
    expect(readFileSync(`${ROOT}THIRD-PARTY-NOTICES.md`, 'utf8')).toBe(notices());
  });

  it('keeps the copyright line and the permission of fft.js (its README)', () => {
    expect(notices()).toMatch(/Copyright Fedor Indutny, 2017\.[\s\S]*Permission is hereby granted/);
  });
});
