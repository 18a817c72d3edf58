import type { Withheld } from '../../lib/review/index.ts';
import { Card, LinkButton } from '../_ui/kit.tsx';

/** Says that the figures of an inspection are kept from this person for now, why, and the way to them. */
export function KeptFromYou({ inspection, withheld }: { inspection: string; withheld: Withheld }) {
  if (withheld.why === 'review under way') {
    return (
      <Card title="A review is under way">
        <p>
          What the reviewer measured is shown when the review is concluded, so that readings asked for again
          are taken without knowing it.
        </p>
      </Card>
    );
  }
  return (
    <Card title="Kept from you until you have measured">
      <p>
        You may review this inspection. Its readings, marks and calls are shown after you have handed in your
        own, or when you say why you look at them early.
      </p>
      {withheld.submission === null ? (
        <p>It has not been submitted yet.</p>
      ) : (
        <LinkButton href={`/review?id=${inspection}`} tone="act">
          Measure it
        </LinkButton>
      )}
    </Card>
  );
}
