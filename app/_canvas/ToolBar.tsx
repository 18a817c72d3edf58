'use client';

import { type ReactNode, useId } from 'react';
import { TOOLS, type Tool, type WorkSummary } from '../../lib/marks/index.ts';
import { RedoIcon, RemoveIcon, ToolIcon, UndoIcon } from './icons.tsx';
import css from './ToolBar.module.css';

export interface ToolBarProps {
  readonly tool: Tool;
  readonly onTool: (tool: Tool) => void;
  /** Tools on offer, in order; all of them when left out. */
  readonly tools?: readonly Tool[];
  /** As told by `onWork` of the canvas; null before it has spoken. */
  readonly work: WorkSummary | null;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly onUndo: () => void;
  readonly onRedo: () => void;
  readonly onFinish: () => void;
  readonly onCancel: () => void;
  readonly onRemove: () => void;
}

const TOOL_WORDS: Readonly<Record<Tool, string>> = {
  look: 'Look',
  crack: 'Crack',
  corrosion: 'Corrosion',
  pitting: 'Pitting',
  'wear patch': 'Wear area',
  'wear band': 'Wear band',
  bent: 'Bent',
  broken: 'Broken',
  span: 'Span',
  angle: 'Angle',
  spot: 'Spot',
};

/** The tools and the steps for the photo canvas. Buttons that mean nothing now keep their place. */
export function ToolBar(props: ToolBarProps) {
  const name = useId();
  const { work } = props;
  const drawing = work?.drawing === true;
  const removes = drawing ? 'Last point' : work?.pointChosen ? 'Remove point' : 'Remove mark';
  return (
    <div className={css.bar}>
      <p className={css.hint} aria-live="polite">
        {work?.hint ?? ''}
      </p>
      <div className={css.steps}>
        <StepButton word="Undo" enabled={props.canUndo || drawing} onPress={props.onUndo}>
          <UndoIcon />
        </StepButton>
        <StepButton word="Redo" enabled={props.canRedo && !drawing} onPress={props.onRedo}>
          <RedoIcon />
        </StepButton>
        <StepButton word={removes} enabled={work?.canRemove === true} onPress={props.onRemove}>
          <RemoveIcon />
        </StepButton>
        <div className={css.ending} data-shown={drawing}>
          <button type="button" className={css.cancel} disabled={!drawing} onClick={props.onCancel}>
            Cancel
          </button>
          <button
            type="button"
            className={css.finish}
            disabled={work?.canFinish !== true}
            onClick={props.onFinish}
          >
            {work?.finishGives === 'width' ? 'Set width' : 'Finish'}
          </button>
        </div>
      </div>
      <fieldset className={css.tools}>
        <legend className={css.legend}>Tool</legend>
        {(props.tools ?? TOOLS).map((tool) => (
          <label key={tool} className={css.tool}>
            <input
              type="radio"
              name={name}
              value={tool}
              checked={tool === props.tool}
              onChange={() => props.onTool(tool)}
            />
            <span className={css.face}>
              <ToolIcon tool={tool} />
              {TOOL_WORDS[tool]}
            </span>
          </label>
        ))}
      </fieldset>
    </div>
  );
}

function StepButton(props: { word: string; enabled: boolean; onPress: () => void; children: ReactNode }) {
  return (
    <button type="button" className={css.step} disabled={!props.enabled} onClick={props.onPress}>
      {props.children}
      <span>{props.word}</span>
    </button>
  );
}
