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

  // both litters from burial on: dots are bags, lines what k and S of each burial make of them
  function curve(burials) {
    var drawn = burials.filter(function (b) { return b.days > 0 && (b.fast !== null || b.slow !== null); });
    if (drawn.length === 0) return null;
    var left = 44, right = 348, top = 26, bottom = 176, last = Math.max.apply(null, drawn.map(function (b) { return b.days; })) * 1.25;
    var lowest = Math.min.apply(null, [0].concat(drawn.map(function (b) { return Math.min(b.fast === null ? 1 : b.fast, b.slow === null ? 1 : b.slow); })));
    var highest = Math.max.apply(null, [1].concat(drawn.map(function (b) { return Math.max(b.fast || 0, b.slow || 0); })));
    function x(d) { return (left + (right - left) * d / last).toFixed(1); }
    function y(w) { return (bottom - (bottom - top) * (w - lowest) / (highest - lowest)).toFixed(1); }
    var svg = element('svg', { class: 'chart', viewBox: '0 0 360 216', role: 'img', 'aria-label': say('site.curve.name', drawn.length) });
    [0, 0.25, 0.5, 0.75, 1].forEach(function (w) {
      svg.append(element('line', { class: 'grid', x1: left, x2: right, y1: y(w), y2: y(w) }), element('text', { class: 'tick', x: left - 6, y: Number(y(w)) + 4, 'text-anchor': 'end' }, number(w)));
    });
    var step = last > 200 ? 100 : last > 100 ? 50 : 25;
    for (var d = 0; d <= last; d += step) svg.append(element('line', { class: 'axis', x1: x(d), x2: x(d), y1: bottom, y2: bottom + 4 }), element('text', { class: 'tick', x: x(d), y: bottom + 17, 'text-anchor': 'middle' }, number(d)));
    svg.append(element('line', { class: 'axis', x1: left, x2: right, y1: bottom, y2: bottom }),
      element('text', { class: 'name', x: (left + right) / 2, y: bottom + 34, 'text-anchor': 'middle' }, say('site.curve.days')),
      element('text', { class: 'name', x: 4, y: 12 }, say('site.curve.left')));
    drawn.forEach(function (b) {
      if (b.k !== null && b.a !== null && b.k > 0) {
        var places = [];
        for (var i = 0; i <= 40; i++) { var t = last * i / 40; places.push(x(t) + ',' + y(b.a * Math.exp(-b.k * t) + 1 - b.a)); }
        svg.append(element('polyline', { class: 'slow line' + (b.use === 'accepted' ? '' : ' doubted'), points: places.join(' ') }));
      }
    });
    drawn.forEach(function (b) {
      var doubted = b.use === 'accepted' ? '' : ' doubted';
      if (b.fast !== null) svg.append(element('rect', { class: 'fast mark' + doubted, x: Number(x(b.days)) - 4, y: Number(y(b.fast)) - 4, width: 8, height: 8 }));
      if (b.slow !== null) svg.append(element('circle', { class: 'slow mark' + doubted, cx: x(b.days), cy: y(b.slow), r: 4.5 }));
    });
    return element('figure', { class: 'figure' }, svg, element('figcaption', {},
      element('span', { class: 'swatch fast' }), say('site.curve.fast') + ' ', element('span', { class: 'swatch slow' }), say('site.curve.slow')));
  }

  function fact(name, value) { return value === null || value === undefined || value === '' ? null : element('div', {}, element('dt', {}, name), element('dd', {}, value)); }

  function place(site) {
    if (site.latitude === null || site.longitude === null) return say('site.no-place');
    var text = number(Math.abs(site.latitude), site.generalised ? 2 : 4) + '° ' + (site.latitude < 0 ? say('site.south') : say('site.north')) + ', ' + number(Math.abs(site.longitude), site.generalised ? 2 : 4) + '° ' + (site.longitude < 0 ? say('site.west') : say('site.east'));
    return text + (site.uncertainty !== null ? ' ± ' + atlas.count(Math.round(site.uncertainty)) + ' m' : '');
  }

  function show(panel, key, row, site, titles, here, close) {
    var accepted = site.burials.filter(function (b) { return b.use === 'accepted'; });
    var shut = element('button', { type: 'button', class: 'shut', 'aria-label': say('site.close') }, '×');
    shut.addEventListener('click', close);
    var flags = site.flags.length === 0 ? null : element('section', {}, element('h3', {}, say('site.flags')), element('ul', { class: 'flags' }, site.flags.map(function (f) {
      return element('li', { class: f[1] }, element('span', { class: 'badge ' + f[1] }, word(f[1])), ' ', element('b', {}, f[0]), ' ', word(f[2]) + ' ' + f[3] + '. ', f[4], f[5] ? ' ' + say('site.overruled', f[5]) : null);
    })));
    panel.replaceChildren.apply(panel, [
      shut,
      element('p', { class: 'over' }, site.contributor),
      element('h2', { id: 'site-name', tabindex: '-1' }, site.id),
      site.generalised ? element('p', { class: 'hint' }, say('site.generalised')) : null,
      element('dl', { class: 'big' },
        element('div', {}, element('dt', {}, quantity('k'), ' ' + say('site.per-day')), element('dd', { 'data-value': 'rate' }, number(row.rate, 4))),
        element('div', {}, element('dt', {}, quantity('S')), element('dd', { 'data-value': 'stabilisation' }, number(row.stabilisation, 2))),
        element('div', {}, element('dt', {}, say('site.burials')), element('dd', { 'data-value': 'burials' }, accepted.length + ' / ' + site.burials.length))),
      element('dl', { class: 'facts' },
        fact(word('use'), word(site.use) + (site.because ? ' (' + site.because + ')' : '')), fact(word('ecosystem'), site.ecosystem), fact(word('land_use'), site.landUse),
        fact(word('management'), site.management), fact(say('site.note'), site.note), fact(word('country'), site.country), fact(say('site.place'), place(site)),
        fact(say('site.elevation'), site.elevation === null ? null : number(site.elevation, 0) + ' m')),
      curve(site.burials), flags,
      element('section', {}, element('h3', {}, say('site.burials')), table(
        [say('site.burial'), word('campaign'), say('site.treatment'), say('site.buried'), say('site.days'), say('site.fast'), say('site.slow'), quantity('k'), quantity('S'), word('use')],
        site.burials.map(function (b) {
          return [b.id, b.campaign, b.treatment || '–', b.buried || '–', number(b.days, 0), number(b.fast, 3), number(b.slow, 3),
            b.k === null ? say('site.none', word(b.missing)) : number(b.k, 4) + ' ± ' + number(b.ku, 4), b.s === null ? '–' : number(b.s, 2) + ' ± ' + number(b.su, 2), word(b.use)];
        }), say('site.burials'), 'small')),
      element('details', {}, element('summary', {}, say('site.bags', site.bags.length)), table(
        [say('site.bag'), say('site.burial'), say('site.litter'), say('site.lot'), say('site.before'), say('site.after'), say('site.basis'), say('site.remaining'), word('use')],
        site.bags.map(function (b) { return [b[0], b[1] || '–', word(b[2]), b[3], number(b[4]), number(b[5]), word(b[6]), b[7] === null ? word(b[8]) : number(b[7], 3), word(b[9])]; }), say('site.bag'), 'small')),
      site.covariates.length === 0 ? null : element('details', { open: '' }, element('summary', {}, say('site.covariates')), table(
        [say('site.covariate'), say('site.value'), say('site.unit'), say('site.how'), say('site.grid')],
        site.covariates.map(function (c) { return [titles[c[0]] || c[0], number(c[1]), c[2], word(c[4]) + (c[3] ? ', ' + word(c[3]) : ''), element('code', {}, c[5] || '–')]; }), say('site.covariates'), 'small')),
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
