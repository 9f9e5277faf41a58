import type { ReactElement } from 'react';
import { useSession } from '../../store/use-session.ts';
import { isZone, zoneInUse } from '../../words/clock.ts';
import { ChoiceField, WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';

/** The block at the foot of a plan sheet: site, job, units, the place's clock. */
export function TitleBlock(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  return (
    <section className="title-block" aria-label="Title block">
      <WrittenField
        label="Site"
        shown={settings.siteName}
        read={(text) => short(text, 200)}
        onValue={(name) => services.setSetting('siteName', name)}
      />
      <WrittenField
        label="Job number"
        shown={settings.jobNumber}
        read={(text) => short(text, 60)}
        onValue={(number) => services.setSetting('jobNumber', number)}
      />
      <ChoiceField
        label="Units"
        value={settings.units}
        options={[
          ['us', 'feet, inches, acres'],
          ['metric', 'meters, hectares'],
        ]}
        onValue={(units) => services.setSetting('units', units === 'metric' ? 'metric' : 'us')}
      />
      <WrittenField
        label="Time zone"
        shown={settings.timeZone || zoneInUse('')}
        read={(text) =>
          isZone(text.trim())
            ? { value: text.trim() }
            : { wrong: 'Write a zone such as America/New_York.' }
        }
        onValue={(zone) => services.setSetting('timeZone', zone)}
      />
    </section>
  );
}

function short(text: string, most: number): { value: string } | { wrong: string } {
  const written = text.trim();
  return written.length <= most ? { value: written } : { wrong: `Keep it to ${most} letters.` };
}
