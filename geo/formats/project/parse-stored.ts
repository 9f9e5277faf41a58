import { isConditionKey, parseCondition } from '../../plan/conditions.ts';
import { parseFeature } from '../../plan/feature.ts';
import type { PlanMap } from '../../plan/raw-plan.ts';
import { parseSetting, settingKeys, type SettingKey } from '../../plan/settings.ts';
import { parseGroundRecord, parsePhotoRecord } from '../../raster/parse-records.ts';
import { problem, type Result } from '../../result.ts';

/**
 * Checks one value of a plan, by its map and key: on its way into the document, as it is found
 * there, and in a project file. What does not fit comes back as a problem that names the key.
 */
export function parseStored(map: PlanMap, key: string, value: unknown): Result<unknown> {
  // The one key that a plain object cannot hold as its own.
  if (key === '__proto__') return unreadable('A part of the plan has a forbidden id', key);
  switch (map) {
    case 'features':
      return filedUnder(key, parseFeature(value));
    case 'settings':
      if (settingKeys.includes(key as SettingKey)) return parseSetting(key as SettingKey, value);
      return unreadable(`The setting ${key} is not known`, key);
    case 'grounds':
      return filedUnder(key, parseGroundRecord(value));
    case 'photos':
      return filedUnder(key, parsePhotoRecord(value));
    case 'conditions':
      if (isConditionKey(key)) return parseCondition(key, value);
      return unreadable(`The condition ${key} is not known`, key);
  }
}

function filedUnder<T extends { readonly id: string }>(key: string, result: Result<T>): Result<T> {
  if (!result.ok) return { ok: false, problem: { where: key, ...result.problem } };
  if (result.value.id === key) return result;
  return unreadable(`${result.value.id} is filed under another id, ${key}`, key);
}

function unreadable(what: string, where: string): Result<never> {
  return problem('value-invalid', `${what}.`, 'Correct it or leave it out.', where);
}
