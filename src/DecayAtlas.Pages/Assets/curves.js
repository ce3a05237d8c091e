// What was left of the litters over time: the curve that k and S of each burial make, and curves fitted to several retrievals.
(function () {
  'use strict';
  var atlas = window.atlas, say = atlas.say, word = atlas.word, number = atlas.number, element = atlas.element;
  var left = 44, right = 348, top = 26, bottom = 176;

  function frame(name, days, shares) {
    var last = Math.max.apply(null, days) * 1.12, lowest = Math.min.apply(null, [0].concat(shares)), highest = Math.max.apply(null, [1].concat(shares));
    var drawing = { last: last, x: function (d) { return (left + (right - left) * d / last).toFixed(1); }, y: function (w) { return (bottom - (bottom - top) * (w - lowest) / (highest - lowest)).toFixed(1); } };
    var svg = drawing.svg = element('svg', { class: 'chart', viewBox: '0 0 360 216', role: 'img', 'aria-label': name }), step = last > 400 ? 100 : last > 200 ? 50 : last > 80 ? 25 : 10;
    [0, 0.25, 0.5, 0.75, 1].forEach(function (w) {
      svg.append(element('line', { class: 'line thin', x1: left, x2: right, y1: drawing.y(w), y2: drawing.y(w) }), element('text', { class: 'soft', x: left - 6, y: Number(drawing.y(w)) + 4, 'text-anchor': 'end' }, number(w)));
    });
    for (var d = 0; d <= last; d += step) svg.append(element('line', { class: 'soft thin', x1: drawing.x(d), x2: drawing.x(d), y1: bottom, y2: bottom + 4 }), element('text', { class: 'soft', x: drawing.x(d), y: bottom + 17, 'text-anchor': 'middle' }, number(d)));
    svg.append(element('line', { class: 'soft thin', x1: left, x2: right, y1: bottom, y2: bottom }),
      element('text', { class: 'soft', x: (left + right) / 2, y: bottom + 34, 'text-anchor': 'middle' }, say('site.curve.days')),
      element('text', { class: 'soft', x: 4, y: 12 }, say('site.curve.left')));
    return drawing;
  }
  // from the burial to the last day that was seen, and no further
  function line(drawing, kind, last, left) {
    var places = [];
    for (var i = 0; i <= 60; i++) { var t = last * i / 60; places.push(drawing.x(t) + ',' + drawing.y(left(t))); }
    drawing.svg.append(element('polyline', { class: 'course ' + kind, points: places.join(' ') }));
  }
  function mark(drawing, litter, days, share, doubted) {
    var kind = (litter === 'fast' ? 'rust' : 'blue') + ' mark' + (doubted ? ' doubted' : ''), x = drawing.x(days), y = drawing.y(share);
    drawing.svg.append(litter === 'fast' ? element('path', { class: kind, d: 'M' + x + ' ' + y + 'm0 -5.5l5.5 5.5l-5.5 5.5l-5.5 -5.5z' }) : element('circle', { class: kind, cx: x, cy: y, r: 4.5 }));
  }
  function swatch(kind, text) { return element('span', { class: 'sample' }, element('span', { class: 'swatch ' + kind }), text); }

  // dots are bags, lines what k and S of each burial make of them
  function ofBurials(burials) {
    var drawn = burials.filter(function (b) { return b.days > 0 && (b.fast !== null || b.slow !== null); });
    if (drawn.length === 0) return null;
    var drawing = frame(say('site.curve.name', drawn.length), drawn.map(function (b) { return b.days; }),
      drawn.reduce(function (all, b) { return all.concat([b.fast, b.slow].filter(function (w) { return w !== null; })); }, []));
    drawn.forEach(function (b) {
      if (b.k !== null && b.a !== null && b.k > 0) line(drawing, 'slow' + (b.use === 'accepted' ? '' : ' doubted'), b.days, function (t) { return b.a * Math.exp(-b.k * t) + 1 - b.a; });
    });
    drawn.forEach(function (b) {
      if (b.fast !== null) mark(drawing, 'fast', b.days, b.fast, b.use !== 'accepted');
      if (b.slow !== null) mark(drawing, 'slow', b.days, b.slow, b.use !== 'accepted');
    });
    return element('figure', { class: 'figure' }, drawing.svg, element('figcaption', {}, swatch('fast', say('site.curve.fast')), swatch('slow', say('site.curve.slow'))));
  }

  function shareLeft(c) {
    if (c.k === null) return null;
    if (c.model === 'single-exponential') return function (t) { return Math.exp(-c.k * t); };
    if (c.model === 'asymptotic') return function (t) { return c.rest + (1 - c.rest) * Math.exp(-c.k * t); };
    if (c.model === 'double-exponential') return function (t) { return c.share * Math.exp(-c.k * t) + (1 - c.share) * Math.exp(-c.k2 * t); };
    return null;
  }
  function parameters(c) {
    if (c.k === null) return c.statement === null ? '–' : element('span', { lang: 'en' }, c.statement);
    return [element('i', {}, 'k'), ' ' + number(c.k, 4) + (c.ku === null ? '' : ' ± ' + number(c.ku, 4)) + ' ' + say('site.per-day'),
      c.model === 'asymptotic' ? '; ' + say('site.series.rest', number(c.rest, 2)) : c.model === 'double-exponential' ? '; ' + say('site.series.second', number(c.k2, 4), number(c.share, 2)) : null];
  }

  // one series: the bags, the curve chosen for each litter, the others faint, and what the two-bag equations make of the same bags
  function ofSeries(s, burials, table) {
    var chosen = s.curves.filter(function (c) { return c.chosen && c.litter !== 'both'; });
    var title = (s.treatment ? s.campaign + ', ' + s.treatment : s.campaign) + say('colon') + say('site.series.title', s.retrievals, number(s.from, 0), number(s.to, 0));
    var drawing = frame(say('site.series.name', s.points.length), s.points.map(function (p) { return p[1]; }).concat(s.to), s.points.map(function (p) { return p[2]; }));
    s.curves.forEach(function (c) { var left = shareLeft(c); if (left && c.litter !== 'both' && !c.chosen) line(drawing, c.litter + ' other', s.to, left); });
    var own = burials.filter(function (b) { return b.campaign === s.campaign && b.treatment === s.treatment && b.use === 'accepted' && b.a !== null; });
    var a = own.reduce(function (sum, b) { return sum + b.a; }, 0) / own.length, hasTwoBag = s.twoBag > 0 && own.length > 0;
    if (hasTwoBag) line(drawing, 'shortcut', s.to, function (t) { return a * Math.exp(-s.twoBag * t) + 1 - a; });
    chosen.forEach(function (c) { line(drawing, c.litter + ' best', s.to, shareLeft(c)); });
    s.points.forEach(function (p) { mark(drawing, p[0], p[1], p[2], p[3] === 0); });
    return element('div', { class: 'series' }, element('h4', {}, title),
      element('figure', { class: 'figure' }, drawing.svg, element('figcaption', {}, swatch('fast', say('site.series.fast')), swatch('slow', say('site.series.slow')), hasTwoBag ? swatch('shortcut', say('site.series.two-bag', number(s.twoBag, 4))) : null)),
      element('ul', { class: 'plain' }, chosen.map(function (c) {
        return element('li', {}, element('b', {}, word(c.litter) + say('colon') + word(c.model)), ' (' + say('site.series.chosen', number(c.aicc, 1), number(100 * c.weight, 0)) + '). ', parameters(c), '.');
      })),
      element('details', {}, element('summary', {}, say('site.series.all')), table(
        [say('site.litter'), say('site.series.curve'), 'AICc', say('site.series.weight'), say('site.series.found')],
        s.curves.filter(function (c) { return c.litter !== 'both'; }).map(function (c) { return [word(c.litter), [word(c.model), c.chosen ? ' ✓' : null], number(c.aicc, 1), c.weight === null ? '–' : number(100 * c.weight, 0) + ' %', parameters(c)]; }), say('site.series.all'), 'small')),
      s.oneS === null ? null : element('p', { class: 'nothing' }, say(s.oneS < 0.05 ? 'site.series.two-s' : 'site.series.one-s', s.oneS < 0.001 ? '< ' + number(0.001) : number(s.oneS, 3))));
  }

  window.atlas.curves = { ofBurials: ofBurials, ofSeries: ofSeries };
})();
