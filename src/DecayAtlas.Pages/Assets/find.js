// Finds a contribution in the list by any part of its name, group or campaign.
(function () {
  'use strict';
  var rows = Array.from(document.querySelectorAll('table.names tbody tr')), name = document.getElementById('name'), found = document.getElementById('found');
  var texts = rows.map(function (row) { return Array.from(row.cells).slice(0, 3).map(function (cell) { return cell.textContent + Array.from(cell.querySelectorAll('[title]'), function (one) { return ' ' + one.title; }).join(''); }).join(' ').toLowerCase(); });
  function narrow() {
    var asked = name.value.trim().toLowerCase().split(/\s+/), shown = 0;
    rows.forEach(function (row, i) {
      row.hidden = !asked.every(function (word) { return texts[i].indexOf(word) >= 0; });
      if (!row.hidden) shown++;
    });
    found.textContent = name.value.trim() === '' ? '' : found.dataset.say.replace('{0}', shown).replace('{1}', rows.length);
  }
  document.getElementById('find').hidden = rows.length === 0;
  name.addEventListener('input', narrow);
})();
