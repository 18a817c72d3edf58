import { StudiesScreen } from '../_screens/studies/StudiesScreen.tsx';

export default function StudiesPage() {
  return <StudiesScreen />;
}
