// A link to a table of the dictionary opens it.
(function () {
  'use strict';
  function open() {
    var asked = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (asked && asked.tagName === 'DETAILS') { asked.open = true; asked.scrollIntoView(); }
  }
  addEventListener('hashchange', open);
  open();
})();
