import { Inspect } from '../_screens/inspect/Inspect.tsx';

export default function InspectPage() {
  return <Inspect />;
}
