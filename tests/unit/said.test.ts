import { Fragment, createElement, type ReactNode } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, test } from 'vitest';
import { Said } from '../../app/page/said.tsx';

/** No line ends between a number and its unit. */

const shown = (...children: ReactNode[]) =>
  renderToStaticMarkup(createElement(Said, null, ...children));
/** What stands in one piece, and the whole text, which must stay as it was. */
const pieces = (markup: string) =>
  [...markup.matchAll(/<span class="whole">(.*?)<\/span>/g)].map(([, text]) => text);
const plain = (markup: string) => markup.replace(/<[^>]*>/g, '');

test.each([
  ['Works in 29 % of the legal hours', ['29 %']],
  ['about 1,250 yd³ (880 to 4,790 yd³) of it', ['1,250 yd³', '880 to 4,790 yd³']],
  ['492 ft of 500 ft: 8 ft short, move SW 240°', ['492 ft', '500 ft', '8 ft']],
  ['a floor of 12 ft 6 in sees more', ['12 ft 6 in']],
  ['1.70 in in 6 h', ['1.70 in', '6 h']],
  ['dry in 17 days, at 3.5 ft/s', ['17 days', '3.5 ft/s']],
  ['dams 226 ft²; 9 mph; 3 minutes; 5 men', ['226 ft²', '9 mph']],
  ['With a rifle, to 250 yd: what bars it', ['250 yd']],
  ['nothing to count here', []],
])('%s', (text, whole) => {
  expect(pieces(shown(text))).toEqual(whole);
  expect(plain(shown(text))).toBe(text);
});

test('a figure and its sign in two pieces, and what is bold, are kept together too', () => {
  expect(pieces(shown('on ', 18, ' %', ' of days'))).toEqual(['18 %']);
  const bold = shown(createElement('b', null, 'Cut 2.0 ft'), ' here');
  expect(bold).toBe('<b>Cut <span class="whole">2.0 ft</span></b> here');
  expect(pieces(shown(createElement(Fragment, null, '; to ', '19 in', ' deep')))).toEqual([
    '19 in',
  ]);
  expect(shown(null, false, createElement('br'))).toBe('<br/>');
});
