'use client';
import { cardLayouts } from '../../../lib/photo/index.ts';
import { Frame } from '../../_ui/Frame.tsx';
import { Card } from '../../_ui/kit.tsx';
import { Printing } from './Printing.tsx';
import { RulerCheck } from './RulerCheck.tsx';
import { YourCamera } from './YourCamera.tsx';

/** The scale cards: to print, what their rulers truly measure, and the camera fitted from photos of one. */
export function ScaleCards() {
  return (
    <Frame title="Scale card" back={{ href: '/', label: 'start' }}>
      <Printing />
      {cardLayouts.map(({ name }) => (
        <RulerCheck key={name} card={name} />
      ))}
      <Card title="How to lay it">
        <ul>
          <li>On clean, dry metal of the part itself, flat, its long side round the rim.</li>
          <li>As near to what you measure as it can lie, and wholly in the picture.</li>
          <li>
            Never reach into a rim that may hold air: the card is laid with the tyre empty and the valve core
            out.
          </li>
        </ul>
      </Card>
      <YourCamera />
    </Frame>
  );
}
