/** The script of the page: it shows the answer that belongs to what was picked, and adds nothing of its own. */
export const PICKING = `
(() => {
  const form = document.querySelector('form.choose');
  const list = document.querySelector('details.answers');
  if (!form || !list) return;
  const show = () => {
    const of = form.querySelector('input[name=option]:checked').value;
    let left = 0;
    for (const set of form.querySelectorAll('.extras')) {
      set.hidden = set.dataset.of !== of;
      if (!set.hidden) for (const box of set.querySelectorAll('input')) if (!box.checked) left |= Number(box.value);
    }
    const row = [...list.querySelectorAll('li')].find((li) => li.dataset.of === of && Number(li.dataset.left) === left);
    const name = form.elements.name.value.replace(/[\\/\\s]+/g, ' ').trim();
    form.querySelector('.total').textContent = row.querySelector('b').textContent;
    form.querySelector('.effect').textContent = row.querySelector('span').textContent;
    form.querySelector('textarea').value = row.querySelector('code').textContent.replace('______', name || '______');
  };
  const button = form.querySelector('button');
  const words = button.textContent;
  form.addEventListener('input', () => { button.textContent = words; show(); });
  button.addEventListener('click', () => {
    const area = form.querySelector('textarea');
    area.select();
    const done = () => { button.textContent = button.dataset.done; };
    if (navigator.clipboard) navigator.clipboard.writeText(area.value).then(done, () => {});
    else if (document.execCommand('copy')) done();
  });
  form.addEventListener('submit', (event) => event.preventDefault());
  form.hidden = false;
  list.open = false;
  show();
})();
`;
