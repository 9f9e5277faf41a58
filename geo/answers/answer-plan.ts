import type { PlanFeature } from '../plan/feature.ts';
import type { Conditions } from '../plan/conditions.ts';
import type { Settings } from '../plan/settings.ts';
import { finish } from '../work.ts';
import type { FeatureAnswers, SiteAnswers } from './answers.ts';
import type { Definition, Rasters } from './definition.ts';
import { definitions } from './definitions.ts';
import { AnswerGraph, type Settled } from './graph.ts';

export interface PlanInputs {
  readonly features: readonly PlanFeature[];
  readonly settings: Settings;
  readonly conditions: Conditions;
  readonly rasters: Partial<Rasters>;
}

export interface PlanAnswers {
  readonly site: Partial<SiteAnswers>;
  /** By feature id. */
  readonly features: Readonly<Record<string, Partial<FeatureAnswers>>>;
}

/** The definitions of the answers named, and of all that they read, in their order. */
export function definitionsFor(names: readonly string[]): Definition[] {
  const wanted = new Set(names);
  for (const { name, reads } of definitions.toReversed()) {
    if (!wanted.has(name)) continue;
    for (const read of reads) if (read.startsWith('answer:')) wanted.add(read.slice(7));
  }
  return definitions.filter(({ name }) => wanted.has(name));
}

/**
 * Every shown answer of a plan, or of those asked, worked out in one go: what the command line prints.
 * @param see is told of what is not shown, too
 */
export function answerPlan(
  inputs: PlanInputs,
  asked: readonly Definition[] = definitions,
  see: (name: string, value: unknown) => void = () => {},
): PlanAnswers {
  const graph = new AnswerGraph(asked);
  const site: Record<string, unknown> = {};
  const features: Record<string, Record<string, unknown>> = {};
  const settle = ({ name, featureId, shown, value }: Settled) => {
    see(name, value);
    if (!shown) return;
    if (featureId === null) site[name] = value;
    else (features[featureId] ??= {})[name] = value;
  };
  graph.setRasters(inputs.rasters);
  graph.setSettings(inputs.settings);
  graph.setConditions(inputs.conditions);
  graph.setFeatures(inputs.features);
  for (let job = graph.next(settle); job; job = graph.next(settle)) {
    graph.done(job, finish(job.begin()), settle);
  }
  return { site, features };
}
