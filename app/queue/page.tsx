import { Queue } from '../_screens/review/Queue.tsx';

export default function QueuePage() {
  return <Queue />;
}
