import { ScaleCards } from '../_screens/card/ScaleCards.tsx';

export default function CardPage() {
  return <ScaleCards />;
}
