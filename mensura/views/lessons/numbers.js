// A table and its sentences, page by page: what does not fit a screen comes at the next press.

/** What is shown or hidden as one: rows of tables, each with its table's head, and paragraphs. */
function itemsOf(box) {
  return [...box.querySelectorAll('tbody > tr, p, pre')].filter((one) => !one.closest('thead'));
}

/** Shows as much of `box` as `high` pixels hold, from the item `from` on; says where the next page
    begins, 0 after the last. */
function showPage(box, from, high) {
  const items = itemsOf(box);
  const tables = [...box.querySelectorAll('table')];
  items.forEach((one) => { one.hidden = true; });
  const seeTables = () => {
    for (const table of tables) { table.hidden = ![...table.querySelectorAll('tbody > tr')].some((row) => !row.hidden); }
  };
  let next = Math.min(from, items.length - 1);
  for (let k = Math.max(0, next); k < items.length; k += 1) {
    items[k].hidden = false;
    seeTables();
    if (box.scrollHeight > high + 1 && k > from) {
      items[k].hidden = true;
      break;
    }
    next = k + 1;
  }
  seeTables();
  return next < items.length ? next : 0;
}
