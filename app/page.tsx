export default function StartPage() {
  return <main>Rimbook</main>;
}
