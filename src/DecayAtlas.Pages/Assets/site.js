// What is known of one site, in the panel beside the map.
(function () {
  'use strict';
  var atlas = window.atlas, say = atlas.say, word = atlas.word, number = atlas.number, element = atlas.element;

  function table(head, rows, name, kind) {
    return element('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': name },
      element('table', { class: kind || '' },
        element('thead', {}, element('tr', {}, head.map(function (h) { return element('th', { scope: 'col' }, h); }))),
        element('tbody', {}, rows.map(function (row) { return element('tr', {}, row.map(function (cell) { return element('td', {}, cell); })); }))));
  }

  function quantity(letter) { return element('i', {}, letter); }

  function fact(name, value) { return value === null || value === undefined || value === '' ? null : element('div', {}, element('dt', {}, name), element('dd', {}, value)); }

  // the interval of k, an end that the weighings do not set left open; or the least that k can be
  function rate(b) {
    if (b.k !== null) return number(b.k, 4) + ' (' + (b.lower === null ? '…' : number(b.lower, 4)) + ' – ' + (b.upper === null ? '…' : number(b.upper, 4)) + ')';
    return b.least === null ? say('site.none', word(b.missing)) : say('site.least', number(b.least, 4), word(b.missing));
  }

  // what the mean of a site leaves out, so that it can be read for what it is
  function leftOut(site) {
    return [site.notPositive > 0 ? say('site.not-positive', site.notPositive) : null, site.atPlateau > 0 ? say('site.at-plateau', site.atPlateau) : null]
      .filter(function (text) { return text !== null; }).join('; ');
  }

  // a value with its interval, which follows it in the row
  function held(row, at, digits) { return row[at] === null ? '–' : number(row[at], digits) + ' (' + number(row[at + 1], digits) + ' – ' + number(row[at + 2], digits) + ')'; }

  function known(code) { return code === null ? null : word(code); }

  function place(site) {
    if (site.latitude === null || site.longitude === null) return say('site.no-place');
    var text = number(Math.abs(site.latitude), site.generalised ? 2 : 4) + '° ' + (site.latitude < 0 ? say('site.south') : say('site.north')) + ', ' + number(Math.abs(site.longitude), site.generalised ? 2 : 4) + '° ' + (site.longitude < 0 ? say('site.west') : say('site.east'));
    return text + (site.uncertainty !== null ? ' ± ' + atlas.count(Math.round(site.uncertainty)) + ' m' : '');
  }

  // a code once, with what it means and every record it stands on
  function flagged(flags) {
    if (flags.length === 0) return null;
    var byCode = new Map();
    flags.forEach(function (f) { var key = f.code + ' ' + f.severity; if (!byCode.has(key)) byCode.set(key, []); byCode.get(key).push(f); });
    return element('section', {}, element('h3', {}, say('site.flags')), element('ul', { class: 'flags' }, Array.from(byCode.values()).map(function (some) {
      var said = some.map(function (f) { return element('li', {}, word(f.kind) + ' ' + f.id, f.measured === null && atlas.meaning(f.code) !== null ? null : [say('colon'), atlas.finding(f)], f.by ? ' ' + say('site.overruled', f.by) : null); });
      return element('li', {}, element('span', { class: 'badge ' + some[0].severity }, word(some[0].severity)), ' ', element('b', {}, atlas.title(some[0].code)), atlas.meaning(some[0].code),
        said.length <= 3 ? element('ul', {}, said) : element('details', {}, element('summary', {}, say('site.records', said.length)), element('ul', {}, said)));
    })));
  }

  function show(panel, key, row, site, titles, here, close) {
    var accepted = site.burials.filter(function (b) { return b.use === 'accepted'; });
    var shut = element('button', { type: 'button', class: 'shut', 'aria-label': say('site.close') }, '×');
    shut.addEventListener('click', close);
    var flags = flagged(site.flags);
    panel.replaceChildren.apply(panel, [
      shut,
      element('p', { class: 'over', title: site.contributor }, site.group || site.contributor),
      element('h2', { id: 'site-name', tabindex: '-1' }, site.id),
      site.generalised ? element('p', { class: 'hint' }, say('site.generalised')) : null,
      element('dl', { class: 'big' },
        element('div', {}, element('dt', {}, quantity('k'), ' ' + say('site.per-day')), element('dd', { 'data-value': 'rate' }, number(row.rate, 4))),
        element('div', {}, element('dt', {}, quantity('S')), element('dd', { 'data-value': 'stabilisation' }, number(row.stabilisation, 2))),
        element('div', {}, element('dt', {}, say('site.burials')), element('dd', { 'data-value': 'burials' }, accepted.length + ' / ' + site.burials.length))),
      element('dl', { class: 'facts' },
        fact(say('site.evidence'), site.evidence === null ? null : word(site.evidence)),
        fact(say('site.left-out'), leftOut(site)),
        fact(word('use'), word(site.use) + (site.because ? ' (' + site.because + ')' : '')), fact(word('ecosystem'), known(site.ecosystem)), fact(word('land_use'), known(site.landUse)),
        fact(word('management'), known(site.management)), fact(say('site.note'), site.note), fact(word('country'), site.country), fact(say('site.place'), place(site)),
        fact(say('site.elevation'), site.elevation === null ? null : number(site.elevation, 0) + ' m')),
      site.values.length === 0 ? null : element('section', {}, element('h3', {}, say('site.borrowed')), element('p', { class: 'nothing' }, say('site.borrowed.text')), table(
        [word('campaign'), element('span', {}, quantity('k'), ' ' + say('site.own')), element('span', {}, quantity('k'), ' ' + say('site.with-others')), element('span', {}, quantity('S'), ' ' + say('site.own')), element('span', {}, quantity('S'), ' ' + say('site.with-others'))],
        site.values.map(function (v) {
          return [v[0], number(v[1], 4), held(v, 2, 4), number(v[5], 2), held(v, 6, 2)];
        }), say('site.borrowed'), 'small')),
      atlas.curves.ofBurials(site.burials),
      site.series.length === 0 ? null : element('section', {}, element('h3', {}, say('site.series')), element('p', { class: 'nothing' }, say('site.series.text')),
        site.series.map(function (s) { return atlas.curves.ofSeries(s, site.burials, table); })),
      flags,
      element('section', {}, element('h3', {}, say('site.burials')), table(
        [say('site.burial'), word('campaign'), say('site.treatment'), say('site.buried'), say('site.days'), say('site.fast'), say('site.slow'), quantity('k'), quantity('S'), word('use')],
        site.burials.map(function (b) {
          return [b.id, b.campaign, b.treatment || '–', b.buried || '–', number(b.days, 0), number(b.fast, 3), number(b.slow, 3),
            rate(b), b.s === null ? '–' : number(b.s, 2) + ' ± ' + number(b.su, 2), word(b.use)];
        }), say('site.burials'), 'small')),
      site.results.length === 0 ? null : element('section', {}, element('h3', {}, say('site.results')), element('p', { class: 'nothing' }, say('site.results.text')), table(
        [say('site.result'), say('site.evidence'), word('campaign'), say('site.treatment'), say('site.burials'), say('site.buried'), say('site.days'), quantity('k'), quantity('S'), word('use')],
        site.results.map(function (r) {
          return [r[0], word(r[1]), r[2], r[3] || '–', number(r[4], 0), r[5], number(r[6], 0),
            r[7] === null ? say('site.none', word(r[9])) : number(r[7], 4) + (r[8] === null ? '' : ' ± ' + number(r[8], 4)), number(r[10], 2), word(r[11])];
        }), say('site.results'), 'small')),
      element('details', {}, element('summary', {}, say('site.bags', site.bags.length)), table(
        [say('site.bag'), say('site.burial'), say('site.litter'), say('site.lot'), say('site.before'), say('site.after'), say('site.basis'), say('site.remaining'), word('use')],
        site.bags.map(function (b) { return [b[0], b[1] || '–', word(b[2]), b[3], number(b[4]), number(b[5]), word(b[6]), b[7] === null ? word(b[8]) : number(b[7], 3), word(b[9])]; }), say('site.bag'), 'small')),
      site.covariates.length === 0 ? null : element('details', { open: '' }, element('summary', {}, say('site.covariates')), table(
        [say('site.covariate'), say('site.value'), say('site.unit'), say('site.how'), say('site.grid')],
        site.covariates.map(function (c) { return [titles[c[0]] || c[0], number(c[1]), atlas.unit(c[2]), word(c[4]) + (c[3] ? ', ' + word(c[3]) : ''), element('code', {}, c[5] || '–')]; }), say('site.covariates'), 'small')),
      element('section', {}, element('h3', {}, say('site.provenance')), element('ul', {}, site.contributions.map(function (c) {
        return element('li', {}, element('a', { href: here + c[1] }, c[0]), ', ' + say('site.revision', c[2]), c[3] ? ', ' + c[3] : null, c[5] ? ', ' + c[5] : null, ', ', element('code', {}, c[4]));
      })), element('p', { class: 'nothing' }, key)),
    ].filter(function (part) { return part !== null; }));
    panel.hidden = false;
    panel.scrollTop = 0;
    document.getElementById('site-name').focus({ preventScroll: innerWidth > 900 });
  }

  window.atlas.showSite = show;
})();
