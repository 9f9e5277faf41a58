import type { Problem } from '../../result.ts';
import { problem, type Result } from '../../result.ts';

/** Problems of project files, worded once. */

const COPY_AGAIN = 'Copy or download the project again; if it still fails, save it again.';

export function damagedZip(where: string): Result<never> {
  return problem('project-damaged', 'The project file is damaged or not whole.', COPY_AGAIN, where);
}

export function tooLarge(what: string, where: string): Result<never> {
  return problem(
    'project-too-large',
    what,
    'It was not made by Assart, or it is damaged: it was not opened.',
    where,
  );
}

export function notAProject(where: string): Result<never> {
  return problem(
    'project-none',
    'This holds no project: plan.geojson and settings.json are not in it.',
    'Choose a project that was saved with "Save a copy".',
    where,
  );
}

export function newerProject(version: number, known: number, where: string): Result<never> {
  return problem(
    'project-newer',
    `The project was saved by a newer Assart (plan version ${version}; this one reads up to ${known}).`,
    'Reload the page to get the newest Assart, then open the project again.',
    where,
  );
}

export function notJson(where: string): Result<never> {
  return problem(
    'project-part-damaged',
    'This part of the project is no whole JSON, so the project was not opened.',
    COPY_AGAIN,
    where,
  );
}

/** A ground or photo that the plan names and that could not be had from the project file. */
export function missingPart(name: string, why: string, id: string): Problem {
  return {
    code: 'project-raster-missing',
    what: `"${name}" ${why}`,
    wayOut: 'Everything drawn is here; open its own file again when you have it.',
    where: id,
  };
}
