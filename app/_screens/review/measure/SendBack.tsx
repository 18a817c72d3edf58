'use client';
import type { ToMeasure } from '../../../../lib/review/index.ts';
import { useDraftOf } from '../../../_client/useDraft.ts';
import { Field } from '../../../_ui/kit.tsx';
import classes from '../review.module.css';
import { SignForm } from '../settle/SignForm.tsx';
import { useSigning } from '../settle/useSigning.ts';

const NO_REASON = { reason: '' };

/** Sends an inspection back that cannot be measured as it is: it opens no figure, so it needs no measurement. */
export function SendBack({
  inspection,
  asked,
  onDone,
}: {
  inspection: string;
  asked: ToMeasure;
  onDone(): Promise<void>;
}) {
  const entry = asked.submission?.entry ?? '';
  const [draft, setDraft] = useDraftOf(`send back|${entry}`, NO_REASON);
  const { sign, wrong, busy } = useSigning(inspection, onDone);
  return (
    <details className={classes.early}>
      <summary>Send it back without measuring</summary>
      <Field label="What the inspector has to put right">
        <textarea
          rows={3}
          maxLength={4000}
          value={draft.reason}
          onChange={(event) => setDraft({ reason: event.target.value })}
        />
      </Field>
      <SignForm
        words="Send it back"
        wrong={wrong}
        busy={busy}
        onSign={async (password) => {
          const signed = await sign(
            {
              submission: entry,
              outcome: 'sent back',
              reason: draft.reason.trim(),
              calls: [],
              signed: 'password entered again',
            },
            password,
            null,
          );
          if (signed) setDraft(NO_REASON);
          return signed;
        }}
      />
    </details>
  );
}
