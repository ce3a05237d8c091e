// Day, night, or as the device has it. Loaded before the page is painted, so that it does not flash.
(function () {
  'use strict';
  var root = document.documentElement, dark = matchMedia('(prefers-color-scheme: dark)');
  function stored() { try { return localStorage.getItem('atlas-light'); } catch (e) { return null; } }
  function isDark() { return root.dataset.light ? root.dataset.light === 'dark' : dark.matches; }
  var chosen = stored();
  if (chosen === 'dark' || chosen === 'bright') root.dataset.light = chosen;
  document.addEventListener('DOMContentLoaded', function () {
    var button = document.getElementById('light');
    button.setAttribute('aria-pressed', String(isDark()));
    button.addEventListener('click', function () {
      root.dataset.light = isDark() ? 'bright' : 'dark';
      try { localStorage.setItem('atlas-light', root.dataset.light); } catch (e) { /* not kept where the browser keeps nothing */ }
      button.setAttribute('aria-pressed', String(isDark()));
      document.dispatchEvent(new Event('atlas-light'));
    });
  });
  dark.addEventListener('change', function () { document.dispatchEvent(new Event('atlas-light')); });
})();
