import { CompareScreen } from '../_screens/compare/CompareScreen.tsx';

export default function ComparePage() {
  return <CompareScreen />;
}
