import { Outbox } from '../_screens/manage/Outbox.tsx';

export default function OutboxPage() {
  return <Outbox />;
}
