import { Review } from '../_screens/review/Review.tsx';

export default function ReviewPage() {
  return <Review />;
}
