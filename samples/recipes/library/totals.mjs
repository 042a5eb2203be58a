// What every job of a book comes to, as it is now: node totals.mjs FOLDER
import { openBook, price } from 'gearquill';

const book = openBook(process.argv[2] ?? '.');
for (const id of book.jobs) {
  const job = price(book, id);
  const option = job.options.find((one) => one.id === job.chosen) ?? job.options[0];
  console.log(`${id}  ${option.name}  ${option.printed.total}${option.complete ? '' : '  (a price is missing)'}`);
}
