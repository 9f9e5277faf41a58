import type { NotchFlows, NotchRun } from './notch-answers.ts';
import type { Finding } from './finding.ts';
import { finding } from './ground-inputs.ts';

/** What is to be said of notches under their flow: one line a matter, with the worst one's numbers. */
export function notchFlowFindings({ runs }: NotchFlows): Finding[] {
  const open = runs.filter(({ isBarred, peak }) => !isBarred && peak.cubicMetersPerSecond > 0);
  const findings: Finding[] = [];
  const washes = open.filter(({ holdsFrom }) => holdsFrom === null);
  if (washes.length > 0) {
    const worst = most(washes, (run) => run.inGrass.metersPerSecond);
    findings.push(
      finding('caution', 'notch-washes', [], {
        spots: idsOf(washes),
        speedMetersPerSecond: worst.inGrass.metersPerSecond,
        permissibleMetersPerSecond: worst.inGrass.permissibleMetersPerSecond,
        widerBottomMeters: worst.widerBottomMeters,
        stoneMeters: worst.stoneMeters,
      }),
    );
  }
  const small = open.filter(({ tooSmall }) => tooSmall);
  if (small.length > 0) {
    const worst = most(small, (run) => run.deepestMeters - run.cutMeters);
    findings.push(
      finding('caution', 'notch-too-small', [], {
        spots: idsOf(small),
        depthMeters: worst.deepestMeters,
        cutMeters: worst.cutMeters,
        widerBottomMeters: worst.widerBottomMeters,
      }),
    );
  }
  const outlets = open.filter(({ outlet }) => outlet && !outlet.holds);
  if (outlets.length > 0) {
    const { outlet } = most(outlets, (run) => run.outlet!.metersPerSecond);
    findings.push(
      finding('caution', 'notch-outlet-washes', [], {
        spots: idsOf(outlets),
        speedMetersPerSecond: outlet!.metersPerSecond,
        permissibleMetersPerSecond: outlet!.permissibleMetersPerSecond,
        outletSlope: outlet!.slopeRatio,
        stoneMeters: outlet!.stoneMeters,
      }),
    );
  }
  const steep = open.filter((run) => run.steepBelow && !outlets.includes(run));
  if (steep.length > 0) {
    const slope = Math.max(...steep.map((run) => run.steepestBelowRatio));
    findings.push(finding('caution', 'steep-below-notch', [], { spots: idsOf(steep), steepestSlope: slope })); // prettier-ignore
  }
  const grass = open.filter(({ holdsFrom }) => holdsFrom !== null && holdsFrom !== 'bare');
  if (grass.length > 0) {
    const worst = most(grass, (run) => run.bare.metersPerSecond);
    findings.push(
      finding('note', 'notch-grass-first', [], {
        spots: idsOf(grass),
        speedMetersPerSecond: worst.bare.metersPerSecond,
        permissibleMetersPerSecond: worst.bare.permissibleMetersPerSecond,
      }),
    );
  }
  return findings;
}

function idsOf(runs: readonly NotchRun[]): string {
  return runs.map(({ id }) => id).join(', ');
}

function most(runs: readonly NotchRun[], of: (run: NotchRun) => number): NotchRun {
  return runs.reduce((worst, run) => (of(run) > of(worst) ? run : worst));
}
