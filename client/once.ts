/**
 * Runs a task at most once at a time; asked again meanwhile, it runs once more when it is done.
 *
 * `pause`: milliseconds without being asked before it runs, for what need not follow each keystroke.
 */
export function once(task: () => Promise<unknown>, pause = 0): () => void {
  let running = false;
  let again = false;
  let waiting: ReturnType<typeof setTimeout> | undefined;
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
  if (pause === 0) return () => void run();
  return () => {
    clearTimeout(waiting);
    waiting = setTimeout(run, pause);
  };
}
