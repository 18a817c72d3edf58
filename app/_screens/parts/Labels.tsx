'use client';
import { useState } from 'react';
import { labelsPdf } from '../../_client/labelsPdf.ts';
import { saveFile } from '../../_client/saveFile.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card } from '../../_ui/kit.tsx';

/** Labels for the wheels: the tag in large letters, and as a code that a phone reads. */
export function Labels() {
  const { register } = useWorkplace();
  const [busy, setBusy] = useState(false);
  const wheels = [...register.wheels.values()].sort((a, b) => (a.tag < b.tag ? -1 : 1));
  if (wheels.length === 0) return null;
  const print = async () => {
    setBusy(true);
    saveFile('wheel-labels.pdf', 'application/pdf', await labelsPdf(wheels, window.location.origin));
    setBusy(false);
  };
  return (
    <Card title="Labels of the wheels">
      <p>
        A page of labels (A4): tag with its check character, machine and position, and a QR code that opens
        the wheel’s book.
      </p>
      <Button disabled={busy} onClick={() => void print()}>
        Save {wheels.length} labels (PDF)
      </Button>
    </Card>
  );
}
