(function () {
  'use strict';
  document.getElementById('print').addEventListener('click', function () { print(); });
})();
