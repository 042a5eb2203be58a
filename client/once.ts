/** Runs a task at most once at a time; asked again meanwhile, it runs once more when it is done. */
export function once(task: () => Promise<unknown>): () => void {
  let running = false;
  let again = false;
  const run = async () => {
    if (running) {
      again = true;
      return;
    }
    running = true;
    do {
      again = false;
      try {
        await task();
      } catch (error) {
        console.error(error);
      }
    } while (again);
    running = false;
  };
  return () => void run();
}
