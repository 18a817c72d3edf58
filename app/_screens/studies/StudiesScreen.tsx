'use client';
import { usePlace } from '../../_client/place.ts';
import { useStudies } from '../../_client/studies.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Caution, Empty } from '../../_ui/kit.tsx';
import { StudyForm } from './StudyForm.tsx';
import { StudyList } from './StudyList.tsx';
import { StudyPage } from './StudyPage.tsx';
import classes from './studies.module.css';

/** Gauge studies: how well the people of a site read with an instrument. */
export function StudiesScreen() {
  return (
    <Frame title="Gauge studies" back={{ href: '/', label: 'start' }} wide>
      <Body />
    </Frame>
  );
}

function Body() {
  const place = usePlace();
  const id = place.get('id');
  if (id === null) {
    return (
      <div className={classes.narrow}>
        <All />
      </div>
    );
  }
  return (
    <div className={classes.page}>
      <p className={classes.noPrint}>
        <Button onClick={() => place.go({ id: null })}>All studies</Button>
      </p>
      <One key={id} id={id} />
    </div>
  );
}

function All() {
  const { has } = useWorkplace();
  const studies = useStudies();
  const place = usePlace();
  return (
    <>
      <Caution kind="note">
        Several people read the same parts several times, each blind to the others and to their own earlier
        readings. The result says how much of the differences comes from measuring.
      </Caution>
      <Card title={`Studies (${studies.length})`}>
        {studies.length === 0 ? (
          <Empty>No study yet. {has('lead') ? '' : 'The lead of the site opens one.'}</Empty>
        ) : (
          <StudyList studies={studies} />
        )}
      </Card>
      {has('lead') ? <StudyForm onOpened={(study) => place.go({ id: study })} /> : null}
    </>
  );
}

function One({ id }: { id: string }) {
  const study = useStudies().find((one) => one.id === id);
  const plan = study?.plan;
  if (study === undefined || plan === null || plan === undefined) {
    return <Empty>This study is not known here yet. With a connection it comes by itself.</Empty>;
  }
  return <StudyPage study={study} plan={plan.value} />;
}
