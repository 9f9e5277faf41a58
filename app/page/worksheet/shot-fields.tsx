import { useState, type ReactElement } from 'react';
import type { ShotRule, Weapon } from '../../../geo/plan/shot-rules.ts';
import { useSession } from '../../store/use-session.ts';
import { figure } from '../../words/format.ts';
import { shotRuleWords, weaponWords } from '../../words/shot-words.ts';
import { ChoiceField, WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { lengthField, rangeField } from './length-field.ts';

/** What stands are held to by what they are hunted with: every number is the user's own. */
export function ShotFields(): ReactElement {
  const { shotRules, shotHalfArcDegrees, units } = useSession((state) => state.settings);
  const services = useServices();
  const [weapon, setWeapon] = useState<Weapon>('rifle');
  const rule = shotRules[weapon];
  return (
    <details className="fold">
      <summary className="narrow">What shots and setbacks are set against</summary>
      <ChoiceField
        label="Hunted with"
        value={weapon}
        options={Object.entries(weaponWords)}
        onValue={(name) => setWeapon(name as Weapon)}
      />
      {(Object.keys(shotRuleWords) as (keyof ShotRule)[]).map((key) => {
        const { label, help, least, isRange } = shotRuleWords[key];
        const field = (isRange ? rangeField : lengthField)(rule[key], units, [least, 5000]);
        return (
          <WrittenField
            key={`${weapon} ${key}`}
            label={label}
            shown={field.shown}
            inputMode="decimal"
            read={field.read}
            onValue={(value) =>
              services.setSetting('shotRules', {
                ...shotRules,
                [weapon]: { ...rule, [key]: value },
              })
            }
            help={help?.(units)}
          />
        );
      })}
      <WrittenField
        label="Arc, to either side of where it faces, degrees"
        shown={figure(shotHalfArcDegrees, 0)}
        inputMode="numeric"
        read={(text) => {
          const degrees = Number(text.replace('°', '').trim());
          return degrees >= 5 && degrees <= 180
            ? { value: degrees }
            : { wrong: 'Write degrees from 5 to 180.' };
        }}
        onValue={(value) => services.setSetting('shotHalfArcDegrees', value)}
        help="ours; a stand that faces nowhere looks all round"
      />
      <p className="narrow aside">
        Common practice, no law: the state’s own distances come first. A length may be written in
        yards, feet or meters.
      </p>
    </details>
  );
}
