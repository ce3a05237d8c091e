// Every flag, narrowed by hand or by the address, and the lines of a decision to copy into the decisions file.
(function () {
  'use strict';
  var atlas = window.atlas, say = atlas.say, word = atlas.word, number = atlas.number, element = atlas.element;
  var form = document.getElementById('narrow'), body = document.querySelector('#flags tbody'), more = document.getElementById('flags-more'), count = document.getElementById('flags-count');
  var page = 25, visible = page, found = [], alike = [];
  var names = ['severity', 'code', 'family', 'contribution', 'kind', 'id', 'measured', 'limit', 'unit', 'explanation', 'overruledBy', 'site', 'group', 'revision', 'page'];
  var all = Number(form.dataset.flags), files = Number(form.dataset.files), asked = 1, flags = [], waits = null;

  // flags come a file at a time: the first with the page, the others once somebody narrows them down or looks beyond the first
  window.atlasFlags = function (rows) {
    rows.forEach(function (row) { var f = {}; names.forEach(function (n, i) { f[n] = row[i]; }); flags.push(f); });
    if (asked < files && waits) fetchNext();
    else if (waits) { var then = waits; waits = null; then(); }
    else begin();
  };
  function fetchNext() {
    var script = document.createElement('script');
    script.src = form.dataset.root + 'data/flags-' + asked++ + '.js';
    document.head.append(script);
  }
  function withAll(then) {
    if (flags.length === all) { then(); return; }
    var fetching = waits !== null;
    waits = then;
    if (!fetching) fetchNext();
  }

  // a JSON string is a YAML string too, whatever stands in it
  function lines(flag) {
    var day = new Date(), two = function (n) { return String(n).padStart(2, '0'); }, on = day.getFullYear() + '-' + two(day.getMonth() + 1) + '-' + two(day.getDate()), q = JSON.stringify;
    var what = flag.severity === 'suspect'
      ? '  - overrule: ' + flag.code + '\n    contribution: ' + q(flag.contribution) + '\n    record: ' + flag.kind + '\n    id: ' + q(flag.id) + '\n    revision: ' + flag.revision + '\n'
      : '  - withdraw: ' + q(flag.contribution) + '\n';
    return what + '    by: curator\n    on: "' + on + '"\n    because: ""\n';
  }
  function offers(flag) { return !flag.overruledBy && (flag.severity === 'reject' || (flag.severity === 'suspect' && /^(site|bag|burial)$/.test(flag.kind))); }

  function copy(flags, button) {
    // a withdrawal takes out a contribution, and does so once
    var text = flags.map(lines).filter(function (t, i, all) { return all.indexOf(t) === i; }).join(''), shown = document.getElementById('decision');
    shown.textContent = text;
    shown.hidden = false;
    // a page from disk may not be let at the clipboard: then the lines stand there, selected
    var marked = document.createRange();
    marked.selectNodeContents(shown);
    getSelection().removeAllRanges();
    getSelection().addRange(marked);
    var done = function () { button.textContent = say('quality.copied'); };
    if (navigator.clipboard) navigator.clipboard.writeText(text).then(done, function () { shown.focus(); });
    else { try { if (document.execCommand('copy')) done(); } catch (e) { shown.focus(); } }
  }

  // flags that say one thing stand once: of one contribution, or where they are about a lot of all that use it
  var ofLots = form.dataset.ofLots.split(' ');
  function asOne(flags) {
    var all = new Map();
    flags.forEach(function (f) {
      var key = JSON.stringify([f.code, f.severity, f.kind, f.explanation, f.measured, f.limit, f.overruledBy, ofLots.indexOf(f.code) < 0 ? f.contribution : '']);
      if (all.has(key)) all.get(key).push(f); else all.set(key, [f]);
    });
    return Array.from(all.values());
  }
  function record(f) { return element('a', { href: f.site ? 'map.html#site=' + encodeURIComponent(f.site) : f.page }, word(f.kind) + ' ' + f.id); }

  function row(flags) {
    var f = flags[0], decision = f.overruledBy ? say('site.overruled', f.overruledBy) : null, many = flags.length > 1, pages = {};
    flags.forEach(function (g) { pages[g.contribution] = g.page; });
    if (offers(f)) {
      decision = element('button', { type: 'button', class: 'quiet' }, f.severity === 'suspect' ? say(many ? 'quality.overrule.all' : 'quality.overrule', flags.length) : say('quality.withdraw'));
      decision.addEventListener('click', function () { copy(flags, this); });
    }
    var cells = [element('span', { class: 'badge ' + f.severity }, word(f.severity)), atlas.title(f.code),
      [record(f), element('br'), Object.keys(pages).map(function (c) { return [element('a', { class: 'nothing', href: pages[c] }, c), ' ']; }),
        many ? element('details', {}, element('summary', {}, say('quality.alike', flags.length - 1)), element('ul', {}, flags.slice(1).map(function (g) { return element('li', {}, record(g)); }))) : null],
      number(f.measured) + (f.measured === null ? '' : ' ' + atlas.unit(f.unit)), number(f.limit), atlas.finding(f), decision];
    return element('tr', {}, cells.map(function (cell, i) { return element('td', { 'data-name': heads[i] }, cell); }));
  }
  var heads = Array.from(document.querySelectorAll('#flags thead th'), function (th) { return th.textContent; });

  function draw() {
    body.replaceChildren.apply(body, alike.slice(0, visible).map(row));
    more.hidden = alike.length <= visible && (isNarrowed() || flags.length === all);
    var narrowed = isNarrowed(), shown = narrowed ? found.length : all;
    count.textContent = say('quality.shown', atlas.count(shown), atlas.count(all));
    count.dataset.count = shown;
  }
  function isNarrowed() { return form.open.checked || ['family', 'severity', 'code', 'group'].some(function (n) { return form[n].value !== ''; }); }
  function refresh() {
    if (isNarrowed()) withAll(narrow); else narrow();
  }
  function narrow() {
    found = flags.filter(function (f) {
      return ['family', 'severity', 'code', 'group'].every(function (n) { return form[n].value === '' || f[n] === form[n].value; }) && (!form.open.checked || !f.overruledBy);
    });
    alike = asOne(found);
    visible = page;
    draw();
  }
  function follow() {
    var asked = new URLSearchParams(location.hash.slice(1));
    if (!['family', 'severity', 'code', 'group'].some(function (n) { return asked.has(n); })) return;
    form.reset();
    asked.forEach(function (value, name) { if (form[name] && form[name].tagName === 'SELECT') form[name].value = value; });
    refresh();
    document.getElementById('all').open = true;
    document.getElementById('all').scrollIntoView();
  }

  form.hidden = false;
  form.addEventListener('change', refresh);
  form.addEventListener('reset', function () { setTimeout(refresh); });
  form.addEventListener('submit', function (e) { e.preventDefault(); });
  more.addEventListener('click', function () {
    visible += page;
    if (visible > alike.length && !isNarrowed()) withAll(function () { alike = asOne(found = flags.slice()); draw(); }); else draw();
  });
  addEventListener('hashchange', follow);
  function begin() { refresh(); follow(); }
})();
