// The check of a file, in the page: files go into the program's memory, its answers are shown. What was received becomes text, never
// markup.
(function () {
  'use strict';
  var say = window.atlas.say, element = window.atlas.element, number = window.atlas.number, words = window.atlasWords;
  var state = { files: [], campaign: window.atlasCampaign || null, mapping: null, confirmed: false, given: [], program: null, view: null, revision: 0 };
  var mostDrawn = 60, mostListed = 300;

  function byId(id) { return document.getElementById(id); }
  function tell(text) { byId('state').textContent = text; }
  function show(section, children) {
    var s = byId(section), whole = element('div', {}, children);
    s.replaceChildren.apply(s, Array.prototype.slice.call(whole.childNodes));
    s.hidden = s.childNodes.length === 0;
  }
  function slanted(text) { return text.split('*').map(function (piece, i) { return i % 2 ? element('i', {}, piece) : piece; }); }
  function button(text, act, kind) { var b = element('button', { type: 'button', class: kind }, text); b.addEventListener('click', act); return b; }
  // where it stands: ready, working, asking, done, broken
  function stage(name) { document.documentElement.dataset.check = name; }
  function paint() { return new Promise(function (done) { requestAnimationFrame(function () { setTimeout(done, 0); }); }); }
  function attend(section) { var h = byId(section).querySelector('h2'); if (h) { h.tabIndex = -1; h.focus(); } }

  // --- the program, out of the scripts of this page
  function bytesOf(name) {
    var letters = atob(window.atlasProgram[name]), bytes = new Uint8Array(letters.length);
    for (var i = 0; i < letters.length; i++) bytes[i] = letters.charCodeAt(i);
    return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'))).arrayBuffer();
  }
  function begin() {
    tell(say('drop.loading'));
    return window.atlasRuntime.dotnet.withResourceLoader(function (type, name, address) {
      return type === 'dotnetjs' ? address
        : bytesOf(name).then(function (bytes) { return new Response(bytes, { headers: { 'Content-Type': 'application/wasm' } }); });
    }).create().then(function (made) { return made.getAssemblyExports('DecayAtlas.Browser.dll'); }).then(function (found) {
      state.program = found.DecayAtlas.Browser.Exports;
      window.atlasProgram = null;
      tell(say('drop.ready'));
      stage('ready');
      warm([state.program.WarmRead, state.program.WarmView, state.program.WarmMap]);
    }, function (fault) { tell(say('drop.failed')); throw fault; });
  }

  // while somebody looks for a file; code is slow the first time. A step holds the page for a moment, so that there is none while keys
  // are pressed or the mouse is: what opens on a key's way up must not wait between its two ways
  var touched = -Infinity, restMs = 2000;
  ['keydown', 'keyup', 'pointerdown', 'pointerup'].forEach(function (kind) {
    document.addEventListener(kind, function () { touched = performance.now(); }, true);
  });
  function warm(steps) {
    setTimeout(function () {
      if (steps.length === 0 || state.files.length > 0) { document.documentElement.dataset.warm = 'yes'; return; }
      if (performance.now() - touched < restMs) { warm(steps); return; }
      steps[0]();
      warm(steps.slice(1));
    }, 60);
  }

  // --- taking files in
  function filesOf(entry) {
    return new Promise(function (done, failed) {
      if (entry.isFile) { entry.file(function (file) { done([{ path: entry.fullPath.replace(/^\//, ''), file: file }]); }, failed); return; }
      var reader = entry.createReader(), all = [];
      (function more() {
        reader.readEntries(function (some) {
          if (some.length === 0) { Promise.all(all.map(filesOf)).then(function (lists) { done([].concat.apply([], lists)); }, failed); return; }
          all = all.concat(Array.prototype.slice.call(some));
          more();
        }, failed);
      })();
    });
  }
  function isCampaign(path) { return /\.ya?ml$/i.test(path) && !/\.mapping\.yaml$/i.test(path); }
  function take(chosen) {
    if (chosen.length === 0) return Promise.resolve();
    // a dropped folder stands for what is in it
    var outer = chosen[0].path.split('/')[0] + '/';
    if (chosen.every(function (c) { return c.path.indexOf(outer) === 0; })) chosen.forEach(function (c) { c.path = c.path.slice(outer.length); });
    return Promise.all(chosen.map(function (c) { return c.file.arrayBuffer().then(function (b) { return { path: c.path, bytes: new Uint8Array(b) }; }); }))
      .then(function (files) {
        var campaigns = files.filter(function (f) { return isCampaign(f.path); });
        if (campaigns.length > 0 && !files.some(function (f) { return f.path === 'datapackage.json'; })) {
          state.campaign = { name: campaigns[0].path, text: new TextDecoder().decode(campaigns[0].bytes) };
          files = files.filter(function (f) { return !isCampaign(f.path); });
          drawCampaign();
        }
        if (files.length === 0) {
          // a campaign file that comes after the table asks anew
          if (state.files.length === 1 && (!state.view || !state.view.valid)) return ask();
          stage(state.view ? 'done' : 'ready');
          return undefined;
        }
        state.files = files;
        state.saved = false;
        state.mapping = null;
        state.confirmed = false;
        state.given = [];
        state.told = [];
        state.view = null;
        state.revision = 0;
        state.program.Clear();
        files.forEach(function (f) { state.program.Put(f.path, f.bytes); });
        return check();
      });
  }
  function drawCampaign() {
    show('campaign-name', state.campaign ? [say('drop.campaign', state.campaign.name) + ' ',
      button(say('drop.forget'), function () { state.campaign = null; drawCampaign(); }, 'plain')] : []);
  }

  // --- checking, and asking where a table has to be understood first
  function guarded(work) {
    tell(say('drop.reading', state.files.map(function (f) { return f.path; }).join(', ')));
    stage('working');
    return paint().then(work).catch(function (fault) {
      tell(say('drop.broke', String(fault && fault.message || fault).split('\n')[0]));
      stage('broken');
    });
  }
  function check() {
    return guarded(function () {
      var json = state.program.Check(state.mapping, state.confirmed, new Date().toISOString().slice(0, 10));
      var view = JSON.parse(state.program.View(words.code));
      if (!state.mapping && view.codes.some(function (c) { return c === 'mapping-missing' || c === 'stray-file'; }) && state.files.length === 1) return ask();
      state.view = view;
      state.json = json;
      byId('drop').classList.add('done');
      show('asked', []);
      drawAnswer(view);
      tell('');
      attend('answer');
      return paint().then(function () { drawPlaces(view); stage('done'); });
    });
  }
  function ask() {
    return guarded(function () {
      var answers = {};
      state.given.forEach(function (g) { answers[g.question.id] = g.value; });
      var inquiry = JSON.parse(state.program.Inquire(JSON.stringify({
        campaign: state.campaign, answers: answers, language: words.code, today: new Date().toISOString().slice(0, 10)
      })));
      if (inquiry.campaign_fault) {
        tell(say('drop.campaign-wrong', inquiry.campaign_fault));
        stage('done');
        return undefined;
      }
      if (inquiry.mapping && inquiry.questions.length === 0) {
        state.mapping = inquiry.mapping;
        state.told = inquiry.told;
        return check();
      }
      // what is asked again could not be understood
      var again = null;
      if (inquiry.questions.length > 0 && answers[inquiry.questions[0].id] !== undefined) {
        again = answers[inquiry.questions[0].id];
        state.given = state.given.filter(function (g) { return g.question.id !== inquiry.questions[0].id; });
      }
      byId('drop').classList.add('done');
      show('answer', []);
      drawQuestion(inquiry, again);
      tell(inquiry.questions.length > 0 ? say('drop.left', inquiry.questions.length) : '');
      stage(inquiry.questions.length > 0 ? 'asking' : 'done');
      attend('asked');
    });
  }

  function seenTable(seen) {
    return seen.length === 0 ? null : element('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': say('drop.seen') },
      element('table', { class: 'grid' }, element('tbody', {}, seen.map(function (c) {
        return element('tr', {}, element('th', { scope: 'row' }, (c.sheet ? c.sheet + ', ' : '') + (c.cell || say('waiting.row', c.row)) + (c.column && !c.cell ? ', ' + c.column : '')),
          element('td', {}, c.text === '' ? say('drop.empty') : c.text));
      }))));
  }
  function drawQuestion(inquiry, again) {
    var children = [element('h2', {}, say('drop.questions'))];
    if (inquiry.questions.length === 0) {
      show('asked', [element('h2', {}, say('drop.first.unread')), element('ul', { class: 'findings' }, inquiry.findings.map(function (f) {
        return element('li', {}, element('p', {}, sentence(f.found)), element('p', {}, element('b', {}, sentence(f.mend))));
      }))].concat(drawGiven(), drawTold(inquiry.told)));
      return;
    }
    var question = inquiry.questions[0], name = 'q-' + state.given.length, form = element('form', { class: 'question' });
    var fault = element('p', { role: 'alert' }, again === null ? '' : say('drop.answer-unfit'));
    form.append(element('h3', { id: name + '-h' }, question.text), question.why ? element('p', { class: 'nothing' }, question.why) : '', seenTable(question.seen) || '');
    if (question.kind === 'choice') {
      form.append(element('fieldset', { 'aria-labelledby': name + '-h' }, question.choices.map(function (c, i) {
        return element('label', { class: 'choice' }, element('input', { type: 'radio', name: name, value: String(i) }),
          element('span', {}, c.text, c.value === question.suggested ? element('span', { class: 'likely' }, ' (' + say('drop.suggested') + ')') : null));
      })));
    } else {
      form.append(element('input', { type: question.kind === 'day' ? 'date' : 'text', id: name, name: name, 'aria-labelledby': name + '-h',
        inputmode: question.kind === 'number' ? 'decimal' : null, autocomplete: 'off', value: again === null ? question.suggested : again }));
    }
    form.append(fault, element('p', { class: 'doors' }, element('button', { type: 'submit' }, say('drop.answer')),
      state.given.length > 0 ? button(say('drop.back'), function () { state.given.pop(); ask(); }, 'quiet') : null));
    form.addEventListener('submit', function (e) {
      e.preventDefault();
      var field = form.elements[name], value = field.value.trim(), text = value;
      if (value !== '' && question.kind === 'choice') { var chosen = question.choices[Number(value)]; value = chosen.value; text = chosen.text; }
      if (question.kind === 'number') value = value.replace(',', '.');
      if (value === '') { fault.textContent = say('drop.answer-missing'); (field.focus ? field : field[0]).focus(); return; }
      state.given.push({ question: question, value: value, text: text });
      state.saved = false;
      ask();
    });
    children.push(form);
    show('asked', children.concat(drawGiven(), drawTold(inquiry.told)));
  }
  function drawGiven() {
    return state.given.length === 0 ? [] : [element('details', {}, element('summary', {}, say('drop.answered')), element('ul', { class: 'answers-given' },
      state.given.map(function (g, i) {
        var change = button(say('drop.change'), function () { state.given.length = i; state.mapping = null; ask(); }, 'plain');
        change.setAttribute('aria-label', say('drop.change') + say('colon') + g.question.text);
        return element('li', {}, g.question.text + ' ', element('b', {}, g.text), ' ', change);
      })))];
  }
  function drawTold(told) {
    return !told || told.length === 0 ? [] : [element('details', {}, element('summary', {}, say('drop.told')),
      element('ul', {}, told.map(function (t) { return element('li', {}, t.text, seenTable(t.seen || [])); })))];
  }

  // --- the answer
  function drawFindings(groups, title, kind, cells) {
    return groups.length === 0 ? [] : [element('h3', {}, title), element('ul', { class: 'findings ' + kind }, groups.map(function (g) {
      var marked = g.findings.map(function (i) { return cells[i]; }).filter(Boolean)[0];
      return element('li', { id: 'finding-' + g.findings[0] }, element('p', { class: 'where' }, g.where,
        marked ? [' ', element('a', { href: '#' + marked }, say('drop.to-cell'))] : null),
        element('p', {}, sentence(g.found) + ' ' + (g.read ? sentence(g.expected) : say('drop.expected') + say('colon') + g.expected.replace(/\.$/, '') + '.')),
        element('p', {}, element('b', {}, g.mend)));
    }))];
  }
  function sentence(text) { return text.charAt(0).toUpperCase() + text.slice(1).replace(/\.$/, '') + '.'; }
  function drawSheets(view, cells) {
    var heads = {}, toMend = {};
    view.mend.concat(view.look).forEach(function (g) { g.findings.forEach(function (i) { heads[i] = g.findings[0]; }); });
    view.mend.forEach(function (g) { g.findings.forEach(function (i) { toMend[i] = true; }); });
    return view.sheets.map(function (sheet, n) {
      var name = [sheet.file, sheet.sheet].filter(Boolean).join(', ');
      return [element('h3', {}, say('drop.sheet') + (view.sheets.length > 1 ? say('colon') + name : '')),
        element('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': say('drop.sheet') + say('colon') + name },
          element('table', { class: 'grid' }, sheet.letters.length > 0 ? element('thead', {}, element('tr', {}, element('th', { scope: 'col' }, say('drop.row')),
            sheet.letters.map(function (l) { return element('th', { scope: 'col' }, l); }))) : null,
          element('tbody', {}, sheet.lines.map(function (line) {
            var whole = line.marks.filter(function (m) { return m.column === undefined || m.column === null; })[0];
            return element('tr', {}, mark(element('th', { scope: 'row' }), String(line.row), whole, n, line.row, 'row', whole ? say('drop.whole-row') : ''),
              line.cells.map(function (text, i) {
                var own = line.marks.filter(function (m) { return m.column === i; })[0];
                return mark(element('td', {}), text, own, n, line.row, i, text === '' && own ? say('drop.empty') : '');
              }));
          }))))];
    });
    function mark(cell, text, own, sheet, row, column, note) {
      if (!own) { cell.append(text); return cell; }
      var id = 'cell-' + sheet + '-' + row + '-' + column;
      cell.id = id;
      cell.className = toMend[own.finding] ? 'marked' : 'glance';
      cells[own.finding] = cells[own.finding] || id;
      cell.append(element('a', { href: '#finding-' + heads[own.finding] }, [text, note].filter(Boolean).join(' ')));
      return cell;
    }
  }

  // after the rest: the coasts take a moment
  function drawPlaces(view) {
    var sites = view.seen ? view.seen.sites : [];
    if (sites.length === 0) return;
    byId('answer').append(element('section', {}, element('h2', {}, say('drop.places')), element('p', {}, say('drop.places.text')), mapOf(sites),
      element('details', {}, element('summary', {}, say('drop.places.table')), table([say('drop.site'), say('drop.latitude'), say('drop.longitude')],
        sites.map(function (s) { return [s.called, number(s.decimal_latitude, 4), number(s.decimal_longitude, 4)]; })))));
  }
  function mapOf(sites) {
    var lat = sites.map(function (s) { return s.decimal_latitude; }), lon = sites.map(function (s) { return s.decimal_longitude; });
    var middle = [(Math.min.apply(null, lat) + Math.max.apply(null, lat)) / 2, (Math.min.apply(null, lon) + Math.max.apply(null, lon)) / 2];
    var shrink = Math.max(0.15, Math.cos(middle[0] * Math.PI / 180)), width = widthOf(640), height = Math.round(width * 0.62);
    // a country or so round the places, so that one knows the coast
    var high = Math.max(8, 1.5 * (Math.max.apply(null, lat) - Math.min.apply(null, lat)), 1.5 * (Math.max.apply(null, lon) - Math.min.apply(null, lon)) * shrink * height / width);
    var wide = high * width / height / shrink, south = middle[0] - high / 2, west = middle[1] - wide / 2;
    function x(l) { return (l - west) / wide * width; }
    function y(b) { return height - (b - south) / high * height; }
    var step = [1, 2, 5, 10, 20, 30].filter(function (s) { return high / s <= 8; })[0] || 45, net = [];
    for (var b = Math.ceil(south / step) * step; b < south + high; b += step) net.push(element('line', { x1: 0, x2: width, y1: y(b), y2: y(b) }));
    for (var l = Math.ceil(west / step) * step; l < west + wide; l += step) net.push(element('line', { x1: x(l), x2: x(l), y1: 0, y2: height }));
    var land = JSON.parse(state.program.Land(south, west, south + high, west + wide)).map(function (ring) {
      return 'M' + ring.map(function (p) { return x(p[0]).toFixed(1) + ' ' + y(p[1]).toFixed(1); }).join('L') + 'Z';
    }).join('');
    return element('svg', { class: 'little-map', viewBox: '0 0 ' + width + ' ' + height, role: 'img', 'aria-label': say('drop.places') + ': '
      + sites.slice(0, 20).map(function (s) { return s.called; }).join(', ') }, land ? element('path', { d: land, 'fill-rule': 'evenodd' }) : null, net,
      sites.map(function (s) { return element('circle', { cx: x(s.decimal_longitude), cy: y(s.decimal_latitude), r: 6 }, element('title', {}, s.called)); }),
      labels());
    // where several places lie close together, the first name stands for them
    function labels() {
      var placed = [];
      return sites.map(function (s) {
        var at = [x(s.decimal_longitude) + 9, y(s.decimal_latitude) + 4];
        if (placed.length > 20 || placed.some(function (p) { return Math.abs(p[0] - at[0]) < 90 && Math.abs(p[1] - at[1]) < 14; })) return null;
        placed.push(at);
        return element('text', { x: at[0], y: at[1] }, s.called);
      });
    }
  }

  function widthOf(most) { return Math.max(260, Math.min(most, byId('drop').clientWidth - 44)); }
  // labelled: a card a row on a narrow screen, each value below the head of its column
  function table(head, rows, kind) {
    return element('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': head.join(', ') }, element('table', { class: 'numbers' + (kind ? ' ' + kind : '') },
      element('thead', {}, element('tr', {}, head.map(function (h) { return element('th', { scope: 'col' }, h); }))),
      element('tbody', {}, rows.slice(0, mostListed).map(function (row) {
        return element('tr', {}, element('th', { scope: 'row' }, row[0]), row.slice(1).map(function (cell, i) { return element('td', { 'data-name': head[i + 1] }, cell); }));
      }))), rows.length > mostListed ? element('p', { class: 'nothing' }, say('drop.rest-of-table', rows.length - mostListed)) : null);
  }
  function range(value, low, high, decimals) {
    return number(value, decimals) + (low === undefined && high === undefined ? '' : ' (' + (low === undefined ? '…' : number(low, decimals)) + ' – ' + (high === undefined ? '…' : number(high, decimals)) + ')');
  }
  function missing(code) { return words['answer.because.' + code] || code; }
  function drawResults(view) {
    var rates = view.seen ? view.seen.rates : [];
    if (rates.length === 0) return [];
    return [element('section', {}, element('h2', {}, say('drop.results')), element('p', {}, slanted(say('drop.results.text'))),
      strip(view, rates, 'k'), strip(view, rates, 's'), besideLine(view),
      table([say('drop.burial'), say('drop.site'), say('drop.days'), say('drop.k'), say('drop.s')], rates.map(function (r) {
        return [r.id, r.called, r.exposure_days === undefined ? '–' : number(r.exposure_days, 0),
          r.rate_per_day !== undefined ? range(r.rate_per_day, r.rate_lower95_per_day, r.rate_upper95_per_day, 4)
            : r.at_least_per_day !== undefined ? say('drop.least', number(r.at_least_per_day, 4)) : missing(r.rate_missing_because),
          r.stabilisation !== undefined ? range(r.stabilisation, r.stabilisation_lower95, r.stabilisation_upper95, 2) : missing(r.stabilisation_missing_because)];
      }), 'labelled'))];
  }
  function kilometres(lat1, lon1, lat2, lon2) {
    var r = Math.PI / 180, a = Math.sin((lat2 - lat1) * r / 2), b = Math.sin((lon2 - lon1) * r / 2);
    return 2 * 6371 * Math.asin(Math.min(1, Math.sqrt(a * a + Math.cos(lat1 * r) * Math.cos(lat2 * r) * b * b)));
  }
  function spreadOf(values) {
    var sorted = values.filter(function (v) { return v !== null; }).sort(function (a, b) { return a - b; });
    function at(share) {
      var place = share * (sorted.length - 1), below = Math.floor(place), above = Math.min(sorted.length - 1, below + 1);
      return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
    }
    return sorted.length < window.atlasBeside.fewest ? null : { sites: sorted.length, p5: at(0.05), p25: at(0.25), p50: at(0.5), p75: at(0.75), p95: at(0.95) };
  }
  // places of the release that are as warm and as wet as those of the group, whose climate is taken from the nearest of the release
  function climateOf(view) {
    var beside = window.atlasBeside, places = beside.places, like = {}, furthest = 0;
    var known = view.seen.sites.length > 0 && view.seen.sites.every(function (site) {
      var nearest = null, least = Infinity;
      places.forEach(function (p) {
        var km = kilometres(site.decimal_latitude, site.decimal_longitude, p[0], p[1]);
        if (km < least) { least = km; nearest = p; }
      });
      if (least > beside.near_km) return false;
      furthest = Math.max(furthest, least);
      places.forEach(function (p, i) {
        var wet = !(nearest[3] > 0) || (p[3] > 0 && Math.abs(Math.log(p[3] / nearest[3])) <= Math.log(beside.rain_factor));
        if (wet && Math.abs(p[2] - nearest[2]) <= beside.warmth_degrees) like[i] = true;
      });
      return true;
    });
    var chosen = Object.keys(like).map(function (i) { return places[i]; }), k = spreadOf(chosen.map(function (p) { return p[4]; }));
    return known && k ? { spread: { k: k, s: spreadOf(chosen.map(function (p) { return p[5]; })) }, name: say('drop.beside.climate', Math.ceil(furthest)) } : null;
  }
  // places of the release in a similar climate; where that is not known, of the same ecosystem where all of the group's are of one, else all
  function kindOf(view) {
    if (view.kind === undefined) view.kind = window.atlasBeside && window.atlasBeside.all.k ? climateOf(view) || likeOf(view) : null;
    return view.kind;
  }
  function likeOf(view) {
    var beside = window.atlasBeside, own = view.seen.sites.map(function (s) { return s.ecosystem; });
    var one = own.length > 0 && own.every(function (e) { return e === own[0]; }) ? own[0] : undefined;
    var known = one !== undefined && Object.prototype.hasOwnProperty.call(beside.ecosystems, one);
    return known ? { spread: beside.ecosystems[one], name: window.atlas.word(one) } : { spread: beside.all, name: say('drop.beside.all') };
  }
  function besideLine(view) {
    var kind = kindOf(view);
    return kind ? element('p', { class: 'nothing' }, say('drop.beside', window.atlasBeside.release, kind.name, kind.spread.k.sites)) : null;
  }
  function strip(view, rates, what) {
    var isLog = what === 'k', kind = kindOf(view), spread = kind && kind.spread[what];
    var points = rates.map(function (r) {
      return isLog ? { id: r.id, mid: r.rate_per_day, low: r.rate_lower95_per_day, high: r.rate_upper95_per_day }
        : { id: r.id, mid: r.stabilisation, low: r.stabilisation_lower95, high: r.stabilisation_upper95 };
    }).filter(function (p) { return p.mid !== undefined && (!isLog || p.mid > 0); });
    if (points.length === 0) return null;
    // as wide as there is room, so that letters keep their size
    var drawn = points.slice(0, mostDrawn), width = widthOf(720), left = width < 480 ? 92 : 130, right = 20, longest = width < 480 ? 12 : 18, line = 20, top = 10, height = top + drawn.length * line + 44;
    var ends = [];
    drawn.forEach(function (p) { ends.push(p.mid); [p.low, p.high].forEach(function (v) { if (v !== undefined && (!isLog || v > 0) && (!isLog || v < 5 * p.mid) && (!isLog || v > p.mid / 5)) ends.push(v); }); });
    if (spread) ends.push(spread.p5, spread.p95);
    var low = Math.min.apply(null, ends), high = Math.max.apply(null, ends);
    if (isLog) { low *= 0.9; high *= 1.1; } else { var pad = Math.max(0.02, (high - low) * 0.06); low -= pad; high += pad; }
    function scaled(v) { return isLog ? Math.log(v) : v; }
    function x(v) { return left + (scaled(Math.min(high, Math.max(low, v))) - scaled(low)) / (scaled(high) - scaled(low)) * (width - left - right); }
    var last = -Infinity, ticks = ticksOf(low, high, isLog).filter(function (t) { var fits = x(t) - last >= 46; if (fits) last = x(t); return fits; });
    function band(from, to, kindName) { return element('rect', { class: kindName, x: x(from), width: Math.max(1, x(to) - x(from)), y: top, height: drawn.length * line }); }
    return element('figure', { class: 'figure' }, element('svg', { class: 'strip', viewBox: '0 0 ' + width + ' ' + height, role: 'img',
      'aria-label': say('drop.axis.' + what) },
      spread ? [band(spread.p5, spread.p95, 'most'), band(spread.p25, spread.p75, 'half')] : null,
      ticks.map(function (t) { return [element('line', { class: 'axis', x1: x(t), x2: x(t), y1: top, y2: top + drawn.length * line }),
        element('text', { class: 'soft', x: x(t), y: top + drawn.length * line + 16, 'text-anchor': 'middle' }, number(t))]; }),
      drawn.map(function (p, i) {
        var y = top + i * line + line / 2, from = p.low === undefined || (isLog && p.low <= 0) ? low : p.low, to = p.high === undefined ? high : p.high;
        return [element('text', { x: left - 8, y: y + 4, 'text-anchor': 'end' }, p.id.length > longest ? p.id.slice(0, longest - 1) + '…' : p.id),
          element('line', { class: 'range', x1: x(from), x2: x(to), y1: y, y2: y }), element('circle', { class: 'dot', cx: x(p.mid), cy: y, r: 4.5 }, element('title', {}, p.id))];
      }),
      element('text', { x: width < 480 ? width / 2 : left + (width - left - right) / 2, y: height - 6, 'text-anchor': 'middle' }, say('drop.axis.' + what))),
      points.length > drawn.length ? element('figcaption', {}, say('drop.rest', points.length - drawn.length)) : null);
  }
  function ticksOf(low, high, isLog) {
    var all = [], step;
    if (isLog && high / low > 3) {
      for (var p = Math.floor(Math.log10(low)); p <= Math.ceil(Math.log10(high)); p++) [1, 2, 5].forEach(function (m) { all.push(Number((m * Math.pow(10, p)).toPrecision(3))); });
    } else {
      step = Math.pow(10, Math.floor(Math.log10((high - low) / 3)));
      while ((high - low) / step > 6) step *= (high - low) / step > 12 ? 5 : 2;
      for (var t = Math.ceil(low / step) * step; t <= high; t += step) all.push(Number(t.toPrecision(6)));
    }
    return all.filter(function (v) { return v >= low && v <= high; });
  }

  // --- what was read beside what is usual; what is unusual waits for the sender's word
  function drawGate(view) {
    if (!view.gate) return [];
    var shown = [table(view.gate.head.map(function (h) { return h || '\u00a0'; }), view.gate.rows)];
    shown[0].classList.add('gate');
    Array.prototype.forEach.call(shown[0].querySelectorAll('tbody tr'), function (tr, i) {
      if (view.gate.rows[i][3] !== say('gate.ok')) tr.className = 'odd';
    });
    // nothing is confirmed of a sheet that is mended first, but it is seen with the rest
    if (view.to_confirm > 0 && view.mend.length > 0) return [element('section', { class: 'hint warn' }, element('h3', {}, view.gate.caption), shown)];
    return view.to_confirm > 0 ? [element('section', { class: 'hint warn' }, element('h3', {}, view.gate.caption), shown,
      element('p', {}, say('gate.ask') + ' ' + say('gate.otherwise')),
      element('p', { class: 'doors' }, button(say('gate.yes'), function () { state.confirmed = true; check(); })))]
      : [element('details', {}, element('summary', {}, view.gate.caption), shown)];
  }

  // what mends something that was accepted before is sent under a higher number
  function drawRevision(view) {
    var box = element('input', { type: 'checkbox', id: 'mends' }), number = element('input', { type: 'number', id: 'revision', min: '2', max: '9999', step: '1' });
    var which = element('label', {}, say('drop.mends.number') + ' ', number);
    function set() {
      which.hidden = !box.checked;
      state.revision = box.checked ? Math.min(9999, Math.max(2, Math.round(Number(number.value)) || 2)) : 0;
    }
    number.value = String(state.revision || Math.min(9999, view.revision + 1));
    box.checked = state.revision > 0;
    box.addEventListener('change', set);
    number.addEventListener('change', function () { set(); number.value = String(state.revision); });
    set();
    return element('fieldset', { class: 'mends' }, element('label', {}, box, element('span', {}, say('drop.mends'))), which,
      element('p', { class: 'small-print' }, say('drop.mends.text', view.revision)));
  }
  function mappingName() {
    var table = state.files.filter(function (f) { return !/\.mapping\.yaml$/i.test(f.path); })[0] || state.files[0];
    return table.path.replace(/\.[^.]*$/, '') + '.mapping.yaml';
  }

  function drawAnswer(view) {
    var cells = {}, sheets = drawSheets(view, cells);
    var doors = element('p', { class: 'doors' },
      view.ready && !view.about ? button(say('drop.send'), function () { save(view.contribution_id + '.zip', state.program.Package(state.revision), 'application/zip'); }) : null,
      view.revision && state.program.Answers(0) !== '' ? button(say('drop.save-answers'), function () {
        save(mappingName(), new TextEncoder().encode(state.program.Answers(state.revision)), 'application/yaml');
      }, 'quiet') : null,
      button(say('drop.another'), function () { byId('files').click(); }, 'quiet'));
    show('answer', [element('h2', { class: view.ready ? 'first' : 'first no' }, view.first),
      view.then.map(function (line) { return element('p', {}, line); }),
      view.ready ? element('p', {}, view.about ? say('drop.send.kit', state.files[0].path, view.revision, view.about) : say('drop.send.text')) : null,
      view.ready && !view.about ? drawRevision(view) : null, doors, drawFindings(view.mend, say('answer.todo'), '', cells),
      drawFindings(view.look, say('answer.look'), 'look', cells), drawGate(view), sheets, drawGiven(), drawTold(state.told), drawResults(view)]);
  }
  function save(name, bytes, type) {
    state.saved = true;
    var address = URL.createObjectURL(new Blob([bytes], { type: type })), link = element('a', { href: address, download: name });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(function () { URL.revokeObjectURL(address); }, 60000);
  }

  // --- wiring
  // another language is another page, and what was dropped and answered is in this one alone
  document.addEventListener('click', function (e) {
    var way = e.target.closest && e.target.closest('a[hreflang]');
    if (!way || state.files.length === 0 || state.saved) return;
    if (window.confirm(say('drop.leave'))) state.saved = true;
    else { e.preventDefault(); e.stopPropagation(); }
  }, true);
  window.addEventListener('beforeunload', function (e) { if (state.given.length > 0 && !state.saved) e.preventDefault(); });
  document.addEventListener('DOMContentLoaded', function () {
    var zone = byId('drop'), ready = begin();
    function taking(chosen) {
      if (chosen.length === 0) return;
      stage('working');
      ready.then(function () { return take(chosen); }).catch(function (fault) { tell(say('drop.broke', String(fault.message || fault))); stage('broken'); });
    }
    ['files', 'folder', 'campaign'].forEach(function (id) {
      byId(id).addEventListener('change', function () {
        taking(Array.prototype.map.call(this.files, function (f) { return { path: f.webkitRelativePath || f.name, file: f }; }));
        this.value = '';
      });
    });
    ['dragover', 'dragenter'].forEach(function (kind) { document.addEventListener(kind, function (e) { e.preventDefault(); zone.classList.add('over-it'); }); });
    document.addEventListener('dragleave', function (e) { if (!e.relatedTarget) zone.classList.remove('over-it'); });
    document.addEventListener('drop', function (e) {
      e.preventDefault();
      zone.classList.remove('over-it');
      // a file that some program hands over without a place on a disk has no entry
      var dropped = Array.prototype.filter.call(e.dataTransfer.items, function (i) { return i.kind === 'file'; }).map(function (i) {
        var entry = i.webkitGetAsEntry && i.webkitGetAsEntry(), file = entry ? null : i.getAsFile();
        return entry ? filesOf(entry) : Promise.resolve(file ? [{ path: file.name, file: file }] : []);
      });
      Promise.all(dropped).then(function (lists) { taking([].concat.apply([], lists)); }, function (fault) { tell(say('drop.broke', String(fault.message || fault))); });
    });
    drawCampaign();
    ready.catch(function () { /* told already */ });
  });

  // for tests that hold the page against the command
  window.atlasCheck = { json: function () { return state.json; }, mapping: function () { return state.mapping; } };
})();
