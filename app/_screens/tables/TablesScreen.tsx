'use client';
import { usePlace } from '../../_client/place.ts';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Empty } from '../../_ui/kit.tsx';
import { Consequences } from './Consequences.tsx';
import { Editor } from './Editor.tsx';
import { useShownTables } from './shown.ts';
import { TableList } from './TableList.tsx';
import { TablePage } from './TablePage.tsx';

/** Tolerance tables: read, changed as drafts, previewed, approved by a second person. */
export function TablesScreen() {
  return (
    <Frame title="Tables" back={{ href: '/', label: 'start' }} wide>
      <Body />
    </Frame>
  );
}

function Body() {
  const place = usePlace();
  const key = place.get('table');
  if (key === null) return <TableList />;
  return (
    <>
      <p>
        <Button onClick={() => place.go({ table: null, show: null })}>All tables</Button>
      </p>
      <OneTable tableKey={key} />
    </>
  );
}

function OneTable({ tableKey: key }: { tableKey: string }) {
  const place = usePlace();
  const tables = useShownTables();
  const shown = tables.find((one) => one.key === key);
  if (place.get('show') === 'change') return <Editor key={key} id={key} shown={shown ?? null} />;
  if (shown === undefined) {
    return (
      <Empty>
        This table is not known here yet. <a href="/tables">All tables</a>
      </Empty>
    );
  }
  return place.get('show') === 'consequences' ? (
    <Consequences shown={shown} />
  ) : (
    <TablePage key={shown.key} shown={shown} />
  );
}
