import { FirstRun } from '../_screens/FirstRun.tsx';

export default function FirstRunPage() {
  return <FirstRun />;
}
