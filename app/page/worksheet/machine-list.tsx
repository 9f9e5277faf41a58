import { useState, type ReactElement } from 'react';
import { isSameMachine, keptMachine, machineInUse, type MachineFigures } from '../../../geo/plan/machine.ts'; // prettier-ignore
import { useSession } from '../../store/use-session.ts';
import { figure, lengthQuantity, spoken, type UnitSystem } from '../../words/format.ts';
import { horsepower } from '../../words/machine-words.ts';
import { WrittenField } from '../fields.tsx';
import { useServices } from '../services.ts';
import { volumeField } from './volume-field.ts';

/** Machines by name: one picked is the one in use, its log with it. */
export function MachineList(): ReactElement {
  const settings = useSession((state) => state.settings);
  const services = useServices();
  const [name, setName] = useState('');
  const { machines, units } = settings;
  const inUse = machineInUse(settings);
  return (
    <>
      {machines.length > 0 && (
        <ul className="narrow" aria-label="Your machines">
          {machines.map((machine) => {
            const isInUse = isSameMachine(machine.figures, inUse);
            return (
              <li key={machine.name}>
                <b>{machine.name}</b>
                {isInUse && ', in use'}: {figuresText(machine.figures, units)}{' '}
                {!isInUse && (
                  <button
                    type="button"
                    className="text-button"
                    onClick={() => services.setSettings(machine.figures)}
                  >
                    Use it<span className="out-of-sight">: {machine.name}</span>
                  </button>
                )}{' '}
                <button
                  type="button"
                  className="text-button"
                  onClick={() =>
                    services.setSetting(
                      'machines',
                      machines.filter((one) => one !== machine),
                    )
                  }
                >
                  Take it off<span className="out-of-sight">: {machine.name}</span>
                </button>
              </li>
            );
          })}
        </ul>
      )}
      <WrittenField
        label="Keep the machine in use as"
        shown={name}
        read={(text) =>
          text.trim().length <= 60 ? { value: text.trim() } : { wrong: 'Keep it to 60 letters.' }
        }
        onValue={setName}
        help="its figures and its log; a name that is there already gets them anew"
      />
      <button
        type="button"
        className="button"
        disabled={
          name === '' || (machines.length >= 50 && !machines.some((one) => one.name === name))
        }
        onClick={() => {
          services.setSetting('machines', [...keptMachine(machines, name, inUse)]);
          setName('');
        }}
      >
        Put it on the list
      </button>
    </>
  );
}

/** "100 hp, carries 2.5 yd³, blade 9 ft, 140 an hour, 2 days logged". */
function figuresText(of: MachineFigures, units: UnitSystem): string {
  const { dozerHourlyRate: rate, loggedClearing: logged } = of;
  return [
    horsepower(of.dozerPowerWatts),
    `carries ${volumeField(of.dozerBladeLoadCubicMeters, units, [0, 0], '').shown}`,
    `blade ${spoken(lengthQuantity(of.dozerBladeWidthMeters, units))}`,
    ...(rate === null ? [] : [`${figure(rate, 0)} an hour`]),
    ...(logged.length === 0 ? [] : [logged.length === 1 ? 'one day logged' : `${logged.length} days logged`]), // prettier-ignore
  ].join(', ');
}
