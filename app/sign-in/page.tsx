import { SignIn } from '../_screens/SignIn.tsx';

export default function SignInPage() {
  return <SignIn />;
}
