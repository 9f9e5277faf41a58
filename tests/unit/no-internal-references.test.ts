import { readdirSync, readFileSync } from 'node:fs';
import { parseSync, Visitor } from 'vite';
import { describe, expect, it } from 'vitest';
import { sentenceOf } from '../../app/words/findings.ts';
import type { Basis, Finding } from '../../geo/answers/finding.ts';
import { definitions } from '../../geo/answers/definitions.ts';
import { demoAnswers } from '../demo-answers.ts';

// What a user reads names published sources and common practice, never our own papers or their numbers.

const internal =
  /\btrade notes?\b|\bhandbook,? (?:§|section|chapter|\d)|§|\(trade\b|\bissues? #?\d|(?:^|\s)#\d+\b(?!\s*:)|\b[SQ]\d{1,2}\b|\bC \d{2}\b/i;

/** Text in quotes, in templates and between tags, with its file; comments are not read by users. */
function stringsIn(file: string): [string, string][] {
  const { program, errors } = parseSync(file, readFileSync(file, 'utf8'));
  expect(errors).toEqual([]);
  const found: [string, string][] = [];
  const take = (text: string) => found.push([file, text]);
  new Visitor({
    Literal: ({ value }) => {
      if (typeof value === 'string') take(value);
    },
    TemplateElement: ({ value }) => take(value.raw),
    JSXText: ({ value }) => take(value),
  }).visit(program);
  return found;
}

const files = ['geo', 'app', 'layers'].flatMap((folder) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `${folder}/${name}`),
);

describe('no reference to our own papers', () => {
  it('is told from what may be said', () => {
    for (const text of [
      'common practice (trade notes Q7)',
      'see handbook §12.1',
      'Handbook, section 7.1',
      'as of issue #41',
      'S31',
      'ours (trade S6)',
    ]) {
      // prettier-ignore
      expect(text).toMatch(internal);
    }
    for (const text of [
      'maker’s performance handbook and FM 5-434 (2000) ch. 2',
      'NWCG, S-390',
      'at 4 issues',
      '#2b5d3a',
    ]) {
      // prettier-ignore
      expect(text).not.toMatch(internal);
    }
  });

  it('in any text in the code', () => {
    const texts = files.flatMap(stringsIn);
    expect(texts.length).toBeGreaterThan(10_000);
    expect(texts.filter(([, text]) => internal.test(text))).toEqual([]);
  });

  it('in what the demo’s answers say', async () => {
    const { site, features } = await demoAnswers([], {}, 'ground.tif', definitions.filter(({ name }) => !slow.includes(name))); // prettier-ignore
    const answers = [site, ...Object.values(features)].flatMap((of) => Object.values(of ?? {}));
    const said = answers.flatMap((answer) => {
      const { basis, findings } = (answer ?? {}) as { basis?: Basis; findings?: Finding[] };
      const sentences = (findings ?? []).map((one) =>
        Object.values(sentenceOf(one, 'us')).join(' '),
      );
      return basis ? [...basis.method, basis.source, basis.confidence, ...sentences] : sentences;
    });
    expect(said.length).toBeGreaterThan(200);
    expect(said.filter((text) => internal.test(text))).toEqual([]);
  });
});
/** Minutes of work; what they say is in the code. */
const slow = ['waysOut', 'spotsSure', 'spotCovers', 'notchFlows', 'notchWork', 'spotFlow', 'spotDetails', 'culvertQuestions']; // prettier-ignore
