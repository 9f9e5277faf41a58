import type { ReactElement } from 'react';
import type { Settings } from '../../../geo/plan/settings.ts';
import { useSession } from '../../store/use-session.ts';
import { clearanceWords } from '../../words/debris-findings.ts';
import { readShare, shareText } from '../../words/tally-words.ts';
import { WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { lengthField } from './length-field.ts';

type LengthKey =
  | 'gapWidthMeters'
  | 'gapSpacingMeters'
  | 'workingStripMeters'
  | 'bermMaxHeightMeters'
  | 'burnGapWidthMeters';

/** How berms and their gaps are laid out: limits and habits that anybody may set otherwise. */
export function BermFields(): ReactElement {
  return (
    <details className="fold">
      <summary className="narrow">How berms and gaps are laid out</summary>
      <Length
        of="gapWidthMeters"
        bounds={[1, 30]}
        label="A gap is wide"
        help="12 to 20 ft (common practice)"
      />
      <Length
        of="gapSpacingMeters"
        bounds={[5, 500]}
        label="Between wildlife gaps at most"
        help="150 ft (common practice)"
      />
      <Length
        of="workingStripMeters"
        bounds={[0, 30]}
        label="Left unplanted round debris"
        help="to work and turn in; 8 ft (common practice)"
      />
      <Length of="bermMaxHeightMeters" bounds={[0.5, 8]} label="Debris is pushed at most so high" />
    </details>
  );
}

/** What fires are measured against, and what one leaves; local rules come before all of it. */
export function BurnFields(): ReactElement {
  const { burnClearMeters, burnConsumedShare, units } = useSession((state) => state.settings);
  const services = useServices();
  return (
    <details className="fold">
      <summary className="narrow">What burning is set against</summary>
      {Object.entries(burnClearMeters).map(([from, meters]) => {
        const field = lengthField(meters, units, [0, 10_000]);
        return (
          <WrittenField
            key={from}
            label={`Off ${clearanceWords(from)}`}
            shown={field.shown}
            inputMode="decimal"
            read={field.read}
            onValue={(value) =>
              services.setSetting('burnClearMeters', {
                ...burnClearMeters,
                [from]: value,
              } as Settings['burnClearMeters'])
            }
          />
        );
      })}
      <Length
        of="burnGapWidthMeters"
        bounds={[1, 30]}
        label="A gap in what is to burn"
        help="26 ft: a county fire service prints 8 m"
      />
      <WrittenField
        label="A fire takes, of a clean dry pile"
        shown={shareText(burnConsumedShare)}
        inputMode="decimal"
        read={readShare}
        onValue={(value) => services.setSetting('burnConsumedShare', value)}
        help="75 to 95 % (common practice)"
      />
      <p className="narrow aside">
        Usual distances (common practice, no source). Local rules come first, and keeping them is no
        permission.
      </p>
    </details>
  );
}

function Length({
  of,
  bounds,
  label,
  help,
}: {
  readonly of: LengthKey;
  readonly bounds: readonly [number, number];
  readonly label: string;
  readonly help?: string;
}): ReactElement {
  const { units, [of]: meters } = useSession((state) => state.settings);
  const services = useServices();
  const field = lengthField(meters, units, bounds);
  return (
    <WrittenField
      label={label}
      shown={field.shown}
      inputMode="decimal"
      read={field.read}
      onValue={(value) => services.setSetting(of, value)}
      help={help}
    />
  );
}
