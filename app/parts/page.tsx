import { Parts } from '../_screens/parts/Parts.tsx';

export default function PartsPage() {
  return <Parts />;
}
