import { z } from 'zod';

/** What is settled before hands go near the wheel. */
export const GateQuestionId = z.enum([
  'dual considered',
  'machine locked out',
  'tyre deflated',
  'valve core out',
  'components clean',
  'trajectory clear',
]);
export type GateQuestionId = z.infer<typeof GateQuestionId>;

export interface GateQuestion {
  readonly id: GateQuestionId;
  readonly ask: string;
  readonly caution: string;
  /** Where the caution comes from; local codes and the maker's manual may ask for more. */
  readonly source: string;
  /** Whether who did it and when is asked for. */
  readonly whoAndWhen: boolean;
  /** Asked only where the wheel is one of a dual pair. */
  readonly dualOnly: boolean;
}

/** The questions in the order they are asked. Paraphrased; the paragraphs named are US federal texts. */
export const gateQuestions: readonly GateQuestion[] = [
  {
    id: 'dual considered',
    ask: 'Are both tyres of the dual deflated, not only this one?',
    caution: 'The inner tyre can push parts out while you work on the outer one.',
    source: 'Common practice, no source',
    whoAndWhen: false,
    dualOnly: true,
  },
  {
    id: 'machine locked out',
    ask: 'Is the machine stopped, blocked and locked out?',
    caution: 'Lock out and block the machine before anyone stands beside the wheel.',
    source: 'Common practice, no source; local lock-out rules apply',
    whoAndWhen: false,
    dualOnly: false,
  },
  {
    id: 'tyre deflated',
    ask: 'Has all the air been let out of the tyre?',
    caution:
      'Stand outside the trajectory while the air goes out. Never loosen anything while there is air behind it.',
    source: '30 CFR 56.14104(a); 29 CFR 1910.177(f)(1), from memory',
    whoAndWhen: true,
    dualOnly: false,
  },
  {
    id: 'valve core out',
    ask: 'Is the valve core out, and the stem proved open with a wire?',
    caution:
      'Take the core out partly first, let the air go, then remove it. Ice or dirt can close the stem.',
    source: '30 CFR 56.14104(a); proving with a wire: common practice, no source',
    whoAndWhen: true,
    dualOnly: false,
  },
  {
    id: 'components clean',
    ask: 'Are the parts clean enough to see bare surfaces?',
    caution: 'Dirt, rust scale and paint hide cracks. Hard blasting can close fine cracks over.',
    source: '29 CFR 1910.177(e)(3), seen in state mirror',
    whoAndWhen: false,
    dualOnly: false,
  },
  {
    id: 'trajectory clear',
    ask: 'Is nobody in the path that parts could take?',
    caution: 'Keep yourself and others out of the trajectory; it is not always straight out from the rim.',
    source: '29 CFR 1910.177(b), (f)(10)',
    whoAndWhen: false,
    dualOnly: false,
  },
];

export type GateAnswer = 'yes' | 'no';

/** What the answers so far allow. */
export interface GateState {
  /** `hands-on` only when every question that applies is answered yes. */
  readonly allows: 'walk-around' | 'hands-on';
  /** Questions that apply and have no yes, in order. */
  readonly open: readonly GateQuestionId[];
}

/** What may be done, given the latest answers; an unanswered question counts as no. */
export function gateState(answers: ReadonlyMap<GateQuestionId, GateAnswer>, dual: boolean): GateState {
  const open = gateQuestions
    .filter((question) => dual || !question.dualOnly)
    .filter((question) => answers.get(question.id) !== 'yes')
    .map((question) => question.id);
  return { allows: open.length === 0 ? 'hands-on' : 'walk-around', open };
}
