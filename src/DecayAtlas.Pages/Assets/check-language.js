// The one file speaks every language: that of the address, else that of the kit it goes with, else that of the browser, else the first.
(function () {
  'use strict';
  var all = window.atlasLanguages, known = Object.keys(all);
  var wanted = [location.hash.slice(1)].concat(window.atlasSpeaks || navigator.languages || []).map(function (l) { return l.slice(0, 2); });
  var code = wanted.filter(function (l) { return known.indexOf(l) >= 0; })[0] || known[0];
  window.atlasWords = all[code];
  document.documentElement.lang = code;
  document.addEventListener('DOMContentLoaded', function () {
    document.querySelectorAll('[data-say]').forEach(function (e) { e.textContent = window.atlasWords[e.dataset.say]; });
    document.title = window.atlasWords['drop.title'];
    document.querySelectorAll('.languages a').forEach(function (a) {
      if (a.lang === code) a.setAttribute('aria-current', 'true');
      a.addEventListener('click', function () { location.hash = a.lang; location.reload(); });
    });
  });
})();
