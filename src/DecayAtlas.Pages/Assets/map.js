// The map: filters, sites (bundled where they are many), the predicted rate, and the panel of one site.
(function () {
  'use strict';
  var atlas = window.atlas, say = atlas.say, prediction = atlas.prediction, element = atlas.element, index = window.atlasIndex;
  var frame = document.querySelector('.atlas'), root = frame.dataset.root, here = frame.dataset.here;
  var panel = document.getElementById('site'), form = document.getElementById('filters'), list = document.getElementById('list');
  var sites = index.rows.map(function (row, number) {
    var site = { number: number };
    index.columns.forEach(function (column, i) { site[column] = row[i]; });
    return site;
  });
  var still = matchMedia('(prefers-reduced-motion: reduce)').matches;
  var byKey = new Map(sites.map(function (s) { return [s.key, s]; })), details = new Map(), shown = sites, open = null;

  var map = L.map('map', { crs: L.CRS.EPSG4326, attributionControl: false, minZoom: 0, maxZoom: 14, zoomSnap: 0.25, worldCopyJump: true, zoomAnimation: !still, fadeAnimation: !still, markerZoomAnimation: !still, inertia: !still });
  L.control.scale({ imperial: false }).addTo(map);
  var ground = atlas.ground(map);

  // --- filters
  function number(names, value) { return value === '' || value === '-' ? value : names.indexOf(value); }
  function chosen() {
    return { ecosystem: number(index.ecosystems, form.ecosystem.value), landUse: number(index.landUses, form.landUse.value), campaign: number(index.campaigns, form.campaign.value),
      flag: number(index.flags, form.flag.value), use: form.use.value };
  }
  function passes(site, c) {
    return (c.ecosystem === '' || site.ecosystem === c.ecosystem) && (c.landUse === '' || site.landUse === c.landUse) && (c.campaign === '' || site.campaigns.indexOf(c.campaign) >= 0) &&
      (c.flag === '' || (c.flag === '-' ? site.flags.length === 0 : site.flags.indexOf(c.flag) >= 0)) && (c.use === '' || site.use === c.use);
  }

  // --- what is shown: k, S, or both as classes, or how far the prediction was off; sites and prediction go together
  function checked(name) { var chosen = document.querySelector('input[name=' + name + ']:checked'); return chosen ? chosen.value : null; }
  function shownOf() { return checked('of') || 'k'; }
  function layerOf() { return checked('layer') || 'rate'; }
  function offOf(site, of) {
    var measured = of === 's' ? site.stabilisation : site.rate, predicted = of === 's' ? site.unseenS : site.unseen;
    return measured === null || predicted === null ? null : prediction.quantities[of].between(predicted, measured);
  }
  // null is hollow; in the layer that tells how unsure the map is, no site has a colour
  function colourFor(rate, stabilisation, off) {
    var of = shownOf(), layer = layerOf();
    if (of === 'joint') return rate === null || stabilisation === null ? null : prediction.colourOfClass(prediction.classOf(rate, stabilisation));
    var value = layer === 'off' ? off : of === 's' ? stabilisation : rate;
    return value === null ? null : prediction.scaleOf(of, layer === 'off' ? 'off' : 'rate').of(value);
  }
  function valueOf(site) {
    var of = shownOf(), k = site.rate === null ? null : atlas.number(site.rate, 4), s = site.stabilisation === null ? null : atlas.number(site.stabilisation, 2);
    if (layerOf() === 'off' && of !== 'joint') {
      return offOf(site, of) === null ? null : say('map.off.said', of === 's' ? s : k, of === 's' ? atlas.number(site.unseenS, 2) : atlas.number(site.unseen, 4));
    }
    return of === 's' ? s : of === 'k' ? k : k === null || s === null ? null : say('map.joint.' + classNames[prediction.classOf(site.rate, site.stabilisation) - 1]);
  }
  var classNames = ['fast-little-left', 'fast-much-left', 'slow-little-left', 'slow-much-left'];

  // --- sites
  var bundles = null, marks = L.layerGroup().addTo(map), drawn = new Map(), opener = null;
  function bundle() {
    drawn.clear();
    marks.clearLayers();
    var of = shownOf() === 's' ? 's' : 'k', isLog = of === 'k';
    // k and factors by their geometric mean, S and differences by the mean
    function mean(sum, known, isOfLogs) { return known ? isOfLogs ? Math.exp(sum / known) : sum / known : null; }
    bundles = new Supercluster({ radius: 36, extent: 256, maxZoom: 12, minPoints: 3,
      map: function (p) {
        var off = offOf(p, of);
        return { sum: p.rate ? Math.log(p.rate) : 0, known: p.rate ? 1 : 0, sumS: p.stabilisation === null ? 0 : p.stabilisation, knownS: p.stabilisation === null ? 0 : 1, sumOff: off === null ? 0 : isLog ? Math.log(off) : off, knownOff: off === null ? 0 : 1 };
      },
      reduce: function (a, b) { Object.keys(a).forEach(function (key) { if (/^(sum|known)/.test(key)) a[key] += b[key]; }); } })
      .load(shown.filter(function (s) { return s.latitude !== null && s.longitude !== null; }).map(function (s) {
        return { type: 'Feature', properties: s, geometry: { type: 'Point', coordinates: [s.longitude, s.latitude] } };
      }));
    bundles.meansOf = function (p) { return [mean(p.sum, p.known, true), mean(p.sumS, p.knownS, false), mean(p.sumOff, p.knownOff, isLog)]; };
  }
  function nameOf(site) {
    var of = shownOf(), value = valueOf(site);
    return site.key + say('colon') + (value === null ? say(layerOf() === 'off' ? 'map.no-off' : 'map.no-rate' + (of === 'k' ? '' : '.' + of)) : (of === 'k' ? 'k ' : of === 's' ? 'S ' : '') + value);
  }
  function sizeOf(p) { return p.cluster ? (map.getSize().x < 600 ? 22 : 26) + Math.min(map.getSize().x < 600 ? 14 : 22, (map.getSize().x < 600 ? 3 : 5) * Math.log2(p.point_count)) : 20; }
  // marks that stay are kept, so that the one that has the focus keeps it when the map moves
  function drawSites() {
    var box = map.getBounds().pad(0.1), found = bundles.getClusters([Math.max(box.getWest(), -180), Math.max(box.getSouth(), -85), Math.min(box.getEast(), 180), Math.min(box.getNorth(), 85)], Math.max(0, Math.round(map.getZoom()) + 1)), wanted = new Map();
    found.forEach(function (f) { wanted.set(f.properties.cluster ? 'bundle ' + f.id : 'site ' + f.properties.number + (open && open.number === f.properties.number ? ' open' : ''), f); });
    drawn.forEach(function (mark, key) { if (!wanted.has(key)) { marks.removeLayer(mark); drawn.delete(key); } });
    wanted.forEach(function (f, key) { if (!drawn.has(key)) drawn.set(key, drawMark(f)); });
    ground.name(found.map(function (f) {
      var at = map.latLngToContainerPoint([f.geometry.coordinates[1], f.geometry.coordinates[0]]), size = sizeOf(f.properties);
      return [at.x, size, at.y, size];
    }));
  }
  function drawMark(f) {
    var at = [f.geometry.coordinates[1], f.geometry.coordinates[0]], many = f.properties.cluster, site = many ? null : sites[f.properties.number];
    var tint = colourFor.apply(null, many ? bundles.meansOf(f.properties) : [site.rate, site.stabilisation, offOf(site, shownOf() === 's' ? 's' : 'k')]), size = sizeOf(f.properties);
    var isPlain = layerOf() === 'width' && shownOf() !== 'joint', face = element('span', { class: isPlain ? 'plain' : tint === null ? 'hollow' : prediction.isLight(tint) ? 'onlight' : 'ondark' }, many ? atlas.count(f.properties.point_count) : null);
    if (tint !== null && !isPlain) face.style.backgroundColor = prediction.css(tint);
    var title = many ? say('map.bundle', atlas.count(f.properties.point_count)) : nameOf(site);
    var mark = L.marker(at, { keyboard: true, title: title, icon: L.divIcon({ className: many ? 'bundle' : 'pin' + (open === site ? ' open' : ''), html: face, iconSize: [size, size] }) });
    function act() { if (many) { map.getContainer().focus(); map.setView(at, Math.min(bundles.getClusterExpansionZoom(f.id) - 1, 12)); } else choose(site, false, 'mark'); }
    mark.on('click', act);
    marks.addLayer(mark);
    var made = mark.getElement();
    made.setAttribute('role', 'button');
    made.setAttribute('aria-label', title);
    made.addEventListener('keydown', function (e) { if (e.key === 'Enter' || e.key === ' ') { e.preventDefault(); e.stopPropagation(); act(); } });
    return mark;
  }

  // --- what passes the filters, in numbers and as a list that needs no mouse
  function refresh() {
    var c = chosen();
    shown = sites.filter(function (s) { return passes(s, c); });
    function sum(column) { return shown.reduce(function (n, s) { return n + s[column]; }, 0); }
    var burials = sum('burials'), summarised = sum('summarised'), reported = sum('reported'), placeless = shown.filter(function (s) { return s.latitude === null; }).length;
    var count = document.getElementById('count');
    count.replaceChildren(element('b', { id: 'sites-shown', 'data-count': shown.length }, atlas.count(shown.length)), ' ' + say('map.count', atlas.count(sites.length), atlas.count(burials)) + (summarised + reported === 0 ? '.' : ' ' + say('map.evidence', atlas.count(burials - summarised - reported), atlas.count(summarised), atlas.count(reported))) + (placeless ? ' ' + say('map.placeless', placeless) : ''));
    bundle();
    drawSites();
    drawList();
    remember();
  }
  function drawList() {
    if (!document.getElementById('listing').open) { list.replaceChildren(); return; }
    list.replaceChildren.apply(list, shown.slice(0, 200).map(function (s) {
      var go = element('button', { type: 'button' }, s.key, element('span', {}, valueOf(s) === null ? '–' : valueOf(s)));
      go.dataset.site = s.number;
      go.addEventListener('click', function () { choose(s, true, 'list'); });
      return element('li', {}, go);
    }));
    document.getElementById('list-rest').textContent = shown.length > 200 ? say('map.rest', atlas.count(shown.length - 200)) : '';
  }

  // --- one site; its details come as a script, which a page from disk may load
  window.atlasSites = function (some) { Object.keys(some).forEach(function (key) { details.set(key, some[key]); }); };
  function choose(site, moves, from) {
    open = site;
    opener = from || null;
    remember();
    if (moves && site.latitude !== null) map.setView([site.latitude, site.longitude], Math.max(map.getZoom(), 8), { animate: false });
    drawSites();
    if (details.has(site.key)) { show(site); return; }
    var script = document.createElement('script');
    script.src = root + 'data/sites-' + Math.floor(site.number / index.sitesAFile) + '.js';
    script.addEventListener('load', function () { if (open === site) show(site); });
    document.head.append(script);
  }
  function show(site) {
    atlas.showSite(panel, site.key, site, details.get(site.key), window.atlasWords.covariates, here, close);
    frame.classList.add('opened');
    map.invalidateSize();
  }
  function close() {
    var site = open;
    open = null;
    panel.hidden = true;
    frame.classList.remove('opened');
    remember();
    map.invalidateSize();
    drawSites();
    // back to where it was opened, if that is still there
    var mark = drawn.get('site ' + site.number), back = opener === 'list' ? list.querySelector('[data-site="' + site.number + '"]') : opener === 'mark' && mark ? mark.getElement() : null;
    (back || map.getContainer()).focus();
  }

  // --- the prediction
  var layers = document.getElementById('layers'), quantities = document.getElementById('quantities'), predicted = { k: null, s: null }, picture = null, reading = document.getElementById('reading');
  function drawPrediction() {
    if (picture) picture.remove();
    picture = null;
    var layer = layerOf(), applies = document.getElementById('applies'), veiled = applies && applies.checked, of = shownOf();
    var one = predicted[of === 's' ? 's' : 'k'], isPainted = one && (of !== 'joint' || predicted.s) && layer !== 'none' && layer !== 'off';
    ground.edge(isPainted ? one.box : null, function (i) { return !isNaN(one.rate[i]); });
    if (isPainted) {
      var box = one.box;
      var cells = of === 'joint' ? prediction.paintJoint(predicted.k, predicted.s, veiled) : prediction.paint(predicted[of], of, layer, veiled);
      cells.setAttribute('role', 'img');
      cells.setAttribute('aria-label', say('map.picture' + (of === 'k' ? '' : '.' + of)));
      picture = L.svgOverlay(cells, [[box.south, box.west], [box.north, box.east]], { pane: 'prediction', opacity: document.getElementById('opacity').value / 100, className: 'cells' }).addTo(map);
    }
    atlas.legend(of, layer);
  }
  function each(selector, act) { Array.prototype.forEach.call(document.querySelectorAll(selector), act); }
  // classes have no ends of an interval to show
  function offerLayers() {
    var of = shownOf(), scale = prediction.quantities[of];
    each('#layers input[name=layer]', function (input) {
      input.disabled = input.value !== 'rate' && input.value !== 'none' && (of === 'joint' || (input.value === 'off' && !scale.off) || (input.value === 'width' && !scale.unsure));
      if (input.disabled && input.checked) layers.querySelector('input[value=rate]').checked = true;
    });
  }
  function read(at) {
    var of = shownOf(), isJoint = of === 'joint', digits = of === 'k' ? 4 : 3;
    var here = isJoint ? predicted.k && predicted.s && prediction.jointAt(predicted.k, predicted.s, at.lat, at.lng) : predicted[of] && prediction.at(predicted[of], at.lat, at.lng);
    reading.hidden = !here;
    if (here) reading.textContent = (isJoint ? say('map.joint.' + classNames[here.code - 1]) + ', ' + say(here.told ? 'map.joint.told' : 'map.joint.untold')
      : say(of === 'k' ? 'map.reading' : 'map.reading.s', atlas.number(here.rate, digits)) + (here.lower === null ? '' : ' ' + say('map.reading.interval', atlas.number(here.lower, digits), atlas.number(here.upper, digits)))
        + (of === 'k' ? ' · ' + say('map.reading.days', atlas.number(Math.LN2 / here.rate, 0)) + (here.lower === null ? '' : ' ' + say('map.reading.interval', atlas.number(Math.LN2 / here.upper, 0), atlas.number(Math.LN2 / here.lower, 0))) : '')) +
      (here.applies === null ? '' : ' · ' + (here.applies ? say('map.reading.applies') : say('map.reading.beyond')));
  }

  // --- a place by its name, a site, a group, or degrees
  var seek = document.getElementById('seek'), found = document.getElementById('found'), sought = document.getElementById('sought');
  var names = window.atlasLand.places.map(function (p) { return { name: p[0], go: function () { if (p[3] === p[5]) map.setView([p[1], p[2]], 8); else map.fitBounds([[p[3], p[4]], [p[5], p[6]]]); } }; })
    .concat(sites.filter(function (s) { return s.latitude !== null; }).map(function (s) { return { name: s.key, site: s, go: function () { choose(s, true, 'search'); } }; }));
  function like(text) {
    var small = text.trim().toLowerCase();
    return small === '' ? [] : names.filter(function (n) { return n.name.toLowerCase().indexOf(small) >= 0; })
      .sort(function (a, b) { return (a.name.toLowerCase().indexOf(small) > 0) - (b.name.toLowerCase().indexOf(small) > 0); });
  }
  function degreesIn(text) {
    var part = '(-?\\d+(?:[.,]\\d+)?)\\s*°?\\s*', letters = [say('site.north'), say('site.south'), say('site.east'), say('site.west')];
    var at = new RegExp('^\\s*' + part + '([NS])?\\s*[,;\\s]\\s*' + part + '([EWO])?\\s*$', 'i').exec(text.replace('−', '-'));
    if (!at) return null;
    var east = (at[4] || '').toUpperCase(), lat = Number(at[1].replace(',', '.')) * (/s/i.test(at[2]) ? -1 : 1), lon = Number(at[3].replace(',', '.')) * (east && (east === 'W' || east === letters[3]) ? -1 : 1);
    return Math.abs(lat) <= 90 && Math.abs(lon) <= 180 ? [lat, lon] : null;
  }
  function seekFor(text) {
    var at = degreesIn(text), alike = like(text), exact = alike.find(function (n) { return n.name.toLowerCase() === text.trim().toLowerCase(); }), one = exact || (alike.length === 1 || (alike[0] && !alike[0].site) ? alike[0] : null);
    sought.textContent = at || alike.length ? say('map.search.at', one ? one.name : text.trim()) : say('map.search.none', text.trim());
    if (at) map.setView(at, Math.max(map.getZoom(), 8));
    else if (one) one.go();
    else if (alike.length) map.fitBounds(L.latLngBounds(alike.map(function (n) { return [n.site.latitude, n.site.longitude]; })).pad(0.2), { maxZoom: 10 });
  }
  seek.addEventListener('input', function () { found.replaceChildren.apply(found, like(seek.value).slice(0, 12).map(function (n) { return element('option', { value: n.name }); })); });
  document.getElementById('search').addEventListener('submit', function (e) { e.preventDefault(); if (seek.value.trim()) seekFor(seek.value); });

  // --- the address keeps the view, so that a link shows it again
  var started = false, moved = false;
  function remember() {
    if (!started) return;
    var kept = new URLSearchParams(), at = map.getCenter();
    ['ecosystem', 'landUse', 'campaign', 'flag', 'use'].forEach(function (name) { if (form[name].value) kept.set(name, form[name].value); });
    if (shownOf() !== 'k') kept.set('of', shownOf());
    if (layerOf() !== 'rate') kept.set('layer', layerOf());
    if (moved) { kept.set('zoom', String(map.getZoom())); kept.set('at', at.lat.toFixed(4) + ',' + at.lng.toFixed(4)); }
    if (open) kept.set('site', open.key);
    history.replaceState(null, '', String(kept) ? '#' + kept : location.pathname + location.search);
  }
  addEventListener('hashchange', function () { if (location.hash.indexOf('=') > 0) location.reload(); });

  // --- on paper: by day, and all that is seen on the screen
  var seen = null;
  addEventListener('beforeprint', function () {
    seen = { box: moved ? map.getBounds() : home, at: map.getCenter(), zoom: map.getZoom(), light: document.documentElement.dataset.light, snap: map.options.zoomSnap };
    document.documentElement.dataset.light = 'bright';
    frame.classList.add('printed');
    // a sheet without the prediction says so, since nobody can wait for it any more
    document.getElementById('early').hidden = !layers || picture !== null || layerOf() === 'none' || layerOf() === 'off';
    // as high as what is seen, so that no empty sea is printed
    map.getContainer().style.height = Math.min(Math.max(205 * (seen.box.getNorth() - seen.box.getSouth()) / (seen.box.getEast() - seen.box.getWest()), 70), 165) + 'mm';
    map.options.zoomSnap = 0;
    map.invalidateSize({ animate: false, pan: false });
    map.fitBounds(seen.box, { animate: false });
    ground.draw();
  });
  addEventListener('afterprint', function () {
    if (seen.light) document.documentElement.dataset.light = seen.light; else delete document.documentElement.dataset.light;
    frame.classList.remove('printed');
    map.getContainer().style.height = '';
    map.options.zoomSnap = seen.snap;
    map.invalidateSize({ animate: false, pan: false });
    map.setView(seen.at, seen.zoom, { animate: false });
    ground.draw();
    seen = null;
  });

  // --- start: land and sites first, the prediction after them
  // looks at the sites that count: one place that was typed wrong must not make the others a dot
  var placed = sites.filter(function (s) { return s.latitude !== null; }), counting = placed.filter(function (s) { return s.rate !== null; });
  placed = (counting.length ? counting : placed).map(function (s) { return [s.latitude, s.longitude]; });
  var home = placed.length ? L.latLngBounds(placed).pad(0.08) : L.latLngBounds([[-60, -180], [80, 180]]);
  if (placed.length) map.fitBounds(home); else map.setView([0, 0], 1);
  var asked = new URLSearchParams(location.hash.slice(1)), place = (asked.get('at') || '').split(',').map(Number);
  if (place.length === 2 && place.every(isFinite) && Math.abs(place[0]) <= 90) { moved = true; map.setView(place, Math.min(Math.max(Number(asked.get('zoom')) || 0, 0), 14), { animate: false }); }
  ground.draw();
  var layer = layers && layers.querySelector('input[value="' + CSS.escape(asked.get('layer') || 'rate') + '"]');
  if (layer) layer.checked = true;
  ['ecosystem', 'landUse', 'campaign', 'flag', 'use'].forEach(function (name) { if (asked.has(name)) form[name].value = asked.get(name); });
  refresh();
  atlas.legend('k', layerOf());
  map.on('moveend', drawSites);
  map.on('moveend', function () { if (started && !seen) moved = true; remember(); });
  map.on('mousemove', function (e) { read(e.latlng); });
  map.on('moveend', function () { if (document.activeElement === map.getContainer()) read(map.getCenter()); });
  map.on('mouseout', function () { reading.hidden = true; });
  form.addEventListener('change', refresh);
  form.addEventListener('reset', function () { setTimeout(refresh); });
  form.addEventListener('submit', function (e) { e.preventDefault(); });
  document.getElementById('listing').addEventListener('toggle', drawList);
  document.addEventListener('atlas-light', function () { ground.draw(); });
  document.addEventListener('keydown', function (e) { if (e.key === 'Escape' && open) close(); });
  if (byKey.has(asked.get('site'))) choose(byKey.get(asked.get('site')), !moved);
  if (layers) {
    layers.addEventListener('change', function (e) { if (e.target.name === 'layer') { bundle(); drawSites(); drawList(); } drawPrediction(); remember(); });
    document.getElementById('opacity').addEventListener('input', function () { if (picture) picture.setOpacity(this.value / 100); });
    function fetchOf(file, then) {
      var script = document.createElement('script');
      script.src = root + file;
      script.addEventListener('load', then);
      document.head.append(script);
    }
    requestAnimationFrame(function () { setTimeout(function () {
      fetchOf('data/prediction.js', function () { predicted.k = prediction.unpack(window.atlasPrediction); drawPrediction(); document.documentElement.dataset.prediction = 'drawn'; });
    }); });
    function showQuantity() {
      function show() { offerLayers(); bundle(); drawSites(); drawList(); drawPrediction(); remember(); document.documentElement.dataset.shown = shownOf(); }
      // S is read when it is first asked for
      if (shownOf() === 'k' || predicted.s) show();
      else fetchOf('data/prediction-s.js', function () { predicted.s = prediction.unpack(window.atlasStabilisation); show(); });
    }
    if (quantities) {
      quantities.addEventListener('change', showQuantity);
      // a link may ask for one, as map.html#of=joint
      var first = quantities.querySelector('input[value="' + CSS.escape(asked.get('of') || 'k') + '"]');
      if (first && first.value !== 'k') { first.checked = true; showQuantity(); }
    }
  }
  started = true;
  document.documentElement.dataset.map = 'ready';
})();
