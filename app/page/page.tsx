import { useEffect, useState, type ReactElement } from 'react';
import { listenForKeys } from '../actions/keys.ts';
import { isShaping } from '../actions/shaping.ts';
import { session, type Session } from '../store/session.ts';
import { ConditionsStrip } from './conditions/strip.tsx';
import { ErrorBoundary } from './error-boundary.tsx';
import { Head } from './head.tsx';
import { Attribution } from './imagery/attribution.tsx';
import { ContourWords } from './map-side/contour-words.tsx';
import { DrawBar } from './map-side/draw-bar.tsx';
import { GoToGround } from './map-side/go-to-ground.tsx';
import { HelperBar, SeveralBar } from './map-side/helper-bar.tsx';
import { Legend } from './map-side/legend.tsx';
import { MapHost } from './map-side/map-host.tsx';
import { MapTools } from './map-side/map-tools.tsx';
import { ProblemNotice, WorkingNotice } from './map-side/notices.tsx';
import { Readout } from './map-side/readout.tsx';
import { Palette } from './palette/palette.tsx';
import { Desks } from './desks.tsx';
import { DropZone } from './opening/drop-zone.tsx';
import { Opening } from './opening/opening.tsx';
import { PanelTabs, type Panel } from './panel-tabs.tsx';
import { SectionPanel } from './section/section-panel.tsx';
import { WhatItIs } from './selected/what-it-is.tsx';
import { ProjectsDialog } from './projects/projects-dialog.tsx';
import { BringInPanel } from './import/bring-in-panel.tsx';
import { useSession } from '../store/use-session.ts';
import { ServicesContext, type Services } from './services.ts';
import { Worksheet } from './worksheet/worksheet.tsx';
import './tokens.css';
import './page.css';
import './numbers.css';
import './slope-classes.css';
import './asides.css';
import './dialogs.css';
import './worksheet.css';
import './map-side.css';
import './selected/what.css';
import './map-side/notices.css';
import './conditions/conditions.css';
import './laptop.css';
import './projects/projects.css';
import './import/import.css';
import './phone.css';

/** The sheet: worksheet at the left, the plan, the conditions over its lower edge. */
export function Page({ services }: { readonly services: Services }): ReactElement {
  return (
    <ErrorBoundary name="Assart">
      <Sheet services={services} />
    </ErrorBoundary>
  );
}

function Sheet({ services }: { readonly services: Services }): ReactElement {
  useEffect(() => listenForKeys(() => session.getState(), services), [services]);
  const [panel, setPanel] = usePanel();
  // A panel of its own lies over the worksheet.
  const isCovered = useSession((state) => state.bringing !== null || state.desk === 'metes');
  return (
    <ServicesContext value={services}>
      <div className="page" data-panel={panel}>
        <Head />
        <aside className="margin slides" aria-label="Margin" data-covers="left" inert={isCovered}>
          <ErrorBoundary name="The worksheet">
            <Worksheet />
          </ErrorBoundary>
        </aside>
        <main className="map-side">
          <h2 className="out-of-sight">Plan</h2>
          <ErrorBoundary name="The map">
            <MapHost />
          </ErrorBoundary>
          <MapTools />
          <div className="map-foot">
            <ContourWords />
            <Attribution />
            <Readout />
          </div>
          <div className="rail">
            <Legend />
            <ErrorBoundary name="The panel">
              <WhatItIs />
            </ErrorBoundary>
          </div>
          <div className="notices">
            <ProblemNotice />
            <WorkingNotice />
            <DrawBar />
            <HelperBar />
            <SeveralBar />
            <GoToGround />
          </div>
          <ErrorBoundary name="The conditions">
            <ConditionsStrip />
          </ErrorBoundary>
          <ErrorBoundary name="The section">
            <SectionPanel />
          </ErrorBoundary>
          <Opening />
        </main>
        <ErrorBoundary name="Bringing in">
          <BringInPanel />
        </ErrorBoundary>
        <PanelTabs panel={panel} onPanel={setPanel} />
        <ProjectsDialog />
        <Palette />
        <Desks />
        <DropZone />
      </div>
    </ServicesContext>
  );
}

/** The low spot or place that the worksheet shows by itself. */
function looksAtWater({ pickedSpot, pointed }: Session): unknown {
  return pointed ?? pickedSpot;
}

/** Selecting opens its panel on a phone; drawing clears the map of panels. */
function usePanel(): [Panel, (panel: Panel) => void] {
  const [panel, setPanel] = useState<Panel>('worksheet');
  useEffect(
    () =>
      session.subscribe((now, before) => {
        if (isShaping(now) && !isShaping(before)) setPanel('none');
        else if (looksAtWater(now) !== looksAtWater(before) && looksAtWater(now))
          setPanel('worksheet');
        else if (!isShaping(now) && isShaping(before) && now.selectedId !== null) setPanel('what');
        else if (now.selectedId === before.selectedId) return;
        else if (now.selectedId !== null) setPanel('what');
        else setPanel((last) => (last === 'what' ? 'worksheet' : last));
      }),
    [],
  );
  return [panel, setPanel];
}
