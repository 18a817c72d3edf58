import { Start } from './_screens/Start.tsx';

export default function StartPage() {
  return <Start />;
}
