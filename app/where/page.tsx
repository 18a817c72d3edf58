import { WhereScreen } from '../_screens/where/WhereScreen.tsx';

export default function WherePage() {
  return <WhereScreen />;
}
