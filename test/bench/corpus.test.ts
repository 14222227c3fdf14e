import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { corpusFolders, type LabelledClip, loadCorpus } from '../../bench/lib/corpus.js';
import { eachFolder, scoreHeldOut } from '../../bench/lib/hold-out.js';
import { phoneFacts } from '../../bench/lib/phone-map.js';

const root = mkdtempSync(join(tmpdir(), 'labelled-'));
afterAll(() => rmSync(root, { recursive: true }));

/** The least WAV file: PCM, one channel, 16 bits (layout: IBM and Microsoft, Multimedia Programming Interface 1.0, 1991, from memory). */
function wav(samples: readonly number[], sampleRateHz: number): Buffer {
  const bytes = Buffer.alloc(44 + 2 * samples.length);
  bytes.write('RIFF', 0, 'latin1');
  bytes.writeUInt32LE(36 + 2 * samples.length, 4);
  bytes.write('WAVEfmt ', 8, 'latin1');
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(sampleRateHz, 24);
  bytes.writeUInt32LE(2 * sampleRateHz, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36, 'latin1');
  bytes.writeUInt32LE(2 * samples.length, 40);
  samples.forEach((sample, i) => {
    bytes.writeInt16LE(sample, 44 + 2 * i);
  });
  return bytes;
}

function folder(name: string, files: Readonly<Record<string, string | Buffer>>): string {
  const path = join(root, name);
  mkdirSync(path, { recursive: true });
  for (const [file, content] of Object.entries(files)) writeFileSync(join(path, file), content);
  return path;
}

describe('loadCorpus', () => {
  it('reads sound, labels and facts, and ignores sound without labels', () => {
    const path = folder('singer', {
      'a.wav': wav(Array(8000).fill(16384), 8000),
      'a.tsv': '0.1\t0.2\ts\n0.2\t0.9\ti\n',
      'b.wav': wav([0, 0], 8000),
    });
    const clips = loadCorpus(path);
    expect(clips).toHaveLength(1);
    expect(clips[0]).toMatchObject({
      name: 'a',
      voice: 'singer',
      recordings: ['singer/a'],
      sampleRateHz: 8000,
      durationSeconds: 1,
    });
    expect(clips[0]?.channels[0]?.[3]).toBe(0.5);
    expect(clips[0]?.labels[0]).toMatchObject({
      startSeconds: 0.1,
      endSeconds: 0.2,
      phone: 's',
      phoneClass: 'sibilant',
    });
    expect(clips[0]?.labels[1]?.phoneClass).toBe('sonorant');
  });

  it('says file and line of a label that ends before it starts', () => {
    const path = folder('damaged', { 'a.wav': wav([0, 0], 8000), 'a.tsv': '0\t0.1\ts\n0.3\t0.2\ti\n' });
    expect(() => loadCorpus(path)).toThrow(/a\.tsv:2: must be start seconds, end seconds, phone/);
  });

  it('names the voices of a composite by their origin, and takes its v for a vowel', () => {
    const path = folder('composite', {
      'mix.wav': wav([0, 0], 8000),
      'mix.tsv': '0\t0.1\tv\n',
      'truth.csv':
        'clip,startSample,endSample,label,level,join,fadeIn_ms,fadeOut_ms,source\n' +
        'mix,0,1,br,0,,0,0,lungs/x.wav\nmix,0,1,sil,,,0,0,\nmix,1,2,v,0,,0,0,singer/a.wav@0.2-0.9:i\n',
    });
    expect(loadCorpus(path)[0]).toMatchObject({
      voice: 'singer',
      voices: ['singer', 'lungs'],
      recordings: ['singer/a', 'lungs/x'],
    });
    expect(loadCorpus(path)[0]?.labels[0]?.phoneClass).toBe('sonorant');
  });

  it('finds the folders that hold labelled sound, and none where there is no corpus', () => {
    folder('empty', { 'readme.txt': '' });
    expect(corpusFolders(root)).not.toContain('empty');
    expect(corpusFolders(root)).toContain('singer');
    expect(corpusFolders(join(root, 'nowhere'))).toEqual([]);
  });
});

describe('phoneFacts', () => {
  const classes = (alphabet: 'latin' | 'ipa' | 'composite', phones: string) =>
    [...new Set(phones.split(' ').map((p) => phoneFacts(p, alphabet).phoneClass))].join(' ');

  // Classes of the CMU Pronouncing Dictionary's phone list (file cmudict.phones, from memory): affricate and the
  // sibilant fricatives apart from the other fricatives.
  it('classes every ARPAbet phone, whatever its case and stress', () => {
    expect(classes('latin', 'S Z SH ZH CH JH s zh')).toBe('sibilant');
    expect(classes('latin', 'F V TH DH HH hh')).toBe('fricative');
    expect(classes('latin', 'P B T D K G')).toBe('stop');
    expect(classes('latin', 'AA0 AE1 AH2 AO AW AY EH ER EY IH IY OW OY UH UW W Y L R M N NG')).toBe(
      'sonorant',
    );
    expect(classes('latin', 'SIL pau sil cl')).toBe('silence');
  });

  it('classes romanised Japanese, palatals with their plain consonants', () => {
    expect(classes('latin', 's sh ts ch z j')).toBe('sibilant');
    expect(classes('latin', 'f h hy')).toBe('fricative');
    expect(classes('latin', 'k ky t d p py b by g gy')).toBe('stop');
    expect(classes('latin', 'a i u e o N n ny m my r ry w y')).toBe('sonorant');
  });

  it('reads j as a glide and the hooked letters as sibilants in IPA, length and tie bars aside', () => {
    expect(classes('ipa', 'sː ʃ t͡ʃ tɕ ʑ d͡ʒ')).toBe('sibilant');
    expect(classes('ipa', 'j ɹ ŋ aː œ y')).toBe('sonorant');
    expect(classes('ipa', 'ç x θ ð ɸ')).toBe('fricative');
    expect(phoneFacts('tʰ', 'ipa').tongueStop).toBe(true);
  });

  it('knows t and k as the tongue stops, and voicing', () => {
    const stops = ['T', 'k', 'p', 'd', 'ky'].map((p) => phoneFacts(p, 'latin').tongueStop);
    expect(stops).toEqual([true, true, false, false, false]);
    expect(['s', 'CH', 'z', 'JH', 'j'].map((p) => phoneFacts(p, 'latin').voiced)).toEqual([
      false,
      false,
      true,
      true,
      true,
    ]);
  });
});

describe('scoreHeldOut', () => {
  it('never judges a clip by a detector that heard any of its voices, and judges every clip once', () => {
    const clip = (name: string, folderName: string, ...voices: string[]): LabelledClip => ({
      name,
      folder: folderName,
      voice: voices[0] as string,
      voices,
      recordings: [`${folderName}/${name}`],
      sampleRateHz: 8000,
      channels: [],
      durationSeconds: 1,
      labels: [],
    });
    const clips = [
      clip('1', 'a', 'a:x'),
      clip('2', 'a', 'a:y'),
      clip('3', 'b', 'b'),
      clip('4', 'mix', 'a:x', 'b'),
      clip('5', 'mix', 'b'),
      clip('6', 'c', 'c'),
    ];
    for (const groupOf of [eachFolder, (voice: string) => voice]) {
      const judged: string[] = [];
      const scores = scoreHeldOut(clips, groupOf, (training) => (own) => {
        const heard = new Set(training.flatMap((t) => t.voices.map(groupOf)));
        expect(own.voices.some((voice) => heard.has(groupOf(voice)))).toBe(false);
        judged.push(own.name);
        return [];
      });
      expect(judged.sort()).toEqual(['1', '2', '3', '4', '5', '6']);
      expect(scores.map((score) => score.folder)).toEqual(['a', 'b', 'mix', 'c']);
    }
  });
});

describe('bench/accuracy.ts', () => {
  it('says so plainly and succeeds where there is no corpus', () => {
    const run = spawnSync(
      process.execPath,
      ['--import', 'tsx', 'bench/accuracy.ts', '--corpus', join(root, 'nowhere')],
      { encoding: 'utf8' },
    );
    expect(run.status).toBe(0);
    expect(run.stdout).toMatch(/^No labelled voices in .*nowhere: nothing is scored/);
  });

  it('scores a corpus as JSON with the plain rule: silence has no regions, so its one s is missed', () => {
    const run = spawnSync(
      process.execPath,
      [
        '--import',
        'tsx',
        'bench/accuracy.ts',
        '--corpus',
        root,
        '--folder',
        'singer',
        '--detector',
        'rule',
        '--json',
      ],
      { encoding: 'utf8' },
    );
    expect(JSON.parse(run.stdout)).toMatchObject([
      { folder: 'singer', sibilantLabels: 1, strictRecall: 0, missedByPhone: [{ phone: 's', count: 1 }] },
    ]);
  });
});
