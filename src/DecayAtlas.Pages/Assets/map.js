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

  function style(name) { return getComputedStyle(document.documentElement).getPropertyValue(name).trim(); }

  // --- the ground: even longitude and latitude, land, and faint lines of both
  var map = L.map('map', { crs: L.CRS.EPSG4326, preferCanvas: true, attributionControl: false, minZoom: 0, maxZoom: 14, zoomSnap: 0.25, worldCopyJump: true, zoomAnimation: !still, fadeAnimation: !still, markerZoomAnimation: !still, inertia: !still });
  L.control.scale({ imperial: false }).addTo(map);
  map.createPane('prediction').style.zIndex = 250;
  var ground = L.layerGroup().addTo(map);
  function drawGround() {
    ground.clearLayers();
    var box = map.getBounds(), across = box.getEast() - box.getWest(), step = across > 90 ? 30 : across > 30 ? 10 : across > 9 ? 5 : 1, lines = [];
    for (var lat = -90; lat <= 90; lat += step) lines.push([[lat, -180], [lat, 180]]);
    for (var lon = -180; lon <= 180; lon += step) lines.push([[-90, lon], [90, lon]]);
    L.polyline(lines, { color: style('--line'), weight: 1, interactive: false }).addTo(ground);
    L.polygon(window.atlasLand.polygons.map(function (p) { return p.map(function (ring) { return ring.map(function (c) { return [c[1], c[0]]; }); }); }),
      { color: style('--coast'), weight: 1, fillColor: style('--land'), fillOpacity: 1, interactive: false, pane: 'tilePane' }).addTo(ground);
  }

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

  // --- what is shown: k, S, or both as classes; sites and prediction go together
  function shownOf() { var chosen = document.querySelector('#quantities input[name=of]:checked'); return chosen ? chosen.value : 'k'; }
  function colourFor(rate, stabilisation) {
    var of = shownOf();
    if (of === 'joint') return rate === null || stabilisation === null ? null : prediction.colourOfClass(prediction.classOf(rate, stabilisation));
    var value = of === 's' ? stabilisation : rate;
    return value === null ? null : prediction.quantities[of].of(value);
  }
  function valueOf(site) {
    var of = shownOf(), k = site.rate === null ? null : atlas.number(site.rate, 4), s = site.stabilisation === null ? null : atlas.number(site.stabilisation, 2);
    return of === 's' ? s : of === 'k' ? k : k === null || s === null ? null : say('map.joint.' + classNames[prediction.classOf(site.rate, site.stabilisation) - 1]);
  }
  var classNames = ['fast-little-left', 'fast-much-left', 'slow-little-left', 'slow-much-left'];

  // --- sites
  var bundles = null, marks = L.layerGroup().addTo(map), drawn = new Map(), opener = null;
  function bundle() {
    drawn.clear();
    marks.clearLayers();
    bundles = new Supercluster({ radius: 40, extent: 256, maxZoom: 12, minPoints: 3,
      map: function (p) { return { sum: p.rate ? Math.log(p.rate) : 0, known: p.rate ? 1 : 0, sumS: p.stabilisation === null ? 0 : p.stabilisation, knownS: p.stabilisation === null ? 0 : 1 }; },
      reduce: function (a, b) { a.sum += b.sum; a.known += b.known; a.sumS += b.sumS; a.knownS += b.knownS; } })
      .load(shown.filter(function (s) { return s.latitude !== null && s.longitude !== null; }).map(function (s) {
        return { type: 'Feature', properties: { number: s.number, rate: s.rate, stabilisation: s.stabilisation }, geometry: { type: 'Point', coordinates: [s.longitude, s.latitude] } };
      }));
  }
  function nameOf(site) {
    var of = shownOf(), value = valueOf(site);
    return site.key + ': ' + (value === null ? say('map.no-rate' + (of === 'k' ? '' : '.' + of)) : (of === 'k' ? 'k ' : of === 's' ? 'S ' : '') + value);
  }
  // marks that stay are kept, so that the one that has the focus keeps it when the map moves
  function drawSites() {
    var box = map.getBounds().pad(0.1), found = bundles.getClusters([Math.max(box.getWest(), -180), Math.max(box.getSouth(), -85), Math.min(box.getEast(), 180), Math.min(box.getNorth(), 85)], Math.max(0, Math.round(map.getZoom()) + 1)), wanted = new Map();
    found.forEach(function (f) { wanted.set(f.properties.cluster ? 'bundle ' + f.id : 'site ' + f.properties.number + (open && open.number === f.properties.number ? ' open' : ''), f); });
    drawn.forEach(function (mark, key) { if (!wanted.has(key)) { marks.removeLayer(mark); drawn.delete(key); } });
    wanted.forEach(function (f, key) { if (!drawn.has(key)) drawn.set(key, drawMark(f)); });
  }
  function drawMark(f) {
    var at = [f.geometry.coordinates[1], f.geometry.coordinates[0]], many = f.properties.cluster, site = many ? null : sites[f.properties.number];
    var rate = many ? (f.properties.known ? Math.exp(f.properties.sum / f.properties.known) : null) : site.rate, stabilisation = many ? (f.properties.knownS ? f.properties.sumS / f.properties.knownS : null) : site.stabilisation, tint = colourFor(rate, stabilisation), size = many ? 26 + Math.min(22, 5 * Math.log2(f.properties.point_count)) : 18;
    var face = element('span', { class: tint === null ? 'hollow' : prediction.isLight(tint) ? 'onlight' : 'ondark' }, many ? atlas.count(f.properties.point_count) : null);
    if (tint !== null) face.style.backgroundColor = prediction.css(tint);
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
    history.replaceState(null, '', '#site=' + encodeURIComponent(site.key));
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
    history.replaceState(null, '', location.pathname + location.search);
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
    var layer = layers.querySelector('input[name=layer]:checked').value, applies = document.getElementById('applies'), veiled = applies && applies.checked, of = shownOf();
    var ready = of === 'joint' ? predicted.k && predicted.s : predicted[of];
    if (ready && layer !== 'none') {
      var box = predicted[of === 's' ? 's' : 'k'].box;
      var cells = of === 'joint' ? prediction.paintJoint(predicted.k, predicted.s, veiled) : prediction.paint(predicted[of], of, layer, veiled);
      cells.setAttribute('role', 'img');
      cells.setAttribute('aria-label', say('map.picture' + (of === 'k' ? '' : '.' + of)));
      picture = L.svgOverlay(cells, [[box.south, box.west], [box.north, box.east]], { pane: 'prediction', opacity: document.getElementById('opacity').value / 100, className: 'cells' }).addTo(map);
    }
    drawLegend(layer);
  }
  function each(selector, act) { Array.prototype.forEach.call(document.querySelectorAll(selector), act); }
  function drawLegend(layer) {
    var of = shownOf(), isJoint = of === 'joint', joint = document.getElementById('legend-joint');
    document.getElementById('legend-scale').hidden = isJoint;
    if (joint) joint.hidden = !isJoint;
    each('.of-k', function (e) { e.hidden = of !== 'k'; });
    each('.of-s', function (e) { e.hidden = of !== 's'; });
    each('.of-joint', function (e) { e.hidden = !isJoint; });
    document.getElementById('legend').hidden = false;
    if (isJoint) return;
    var ramp = document.getElementById('ramp'), pen = ramp.getContext('2d'), q = prediction.quantities[of], digits = of === 'k' ? 4 : 2;
    for (var i = 0; i < 256; i++) { pen.fillStyle = prediction.css(q.colour(i / 255)); pen.fillRect(i, 0, 1, 12); }
    document.getElementById('low').textContent = layer === 'width' ? q.sure[0] : '≤ ' + atlas.number(q.scale[0], digits);
    document.getElementById('high').textContent = layer === 'width' ? q.sure[1] : '≥ ' + atlas.number(q.scale[1], digits);
    // the same scale as days in which half of what can decompose is lost
    document.getElementById('half-lives').hidden = of !== 'k' || layer === 'width';
    document.getElementById('longest').textContent = '≥ ' + atlas.number(Math.LN2 / q.scale[0], 0);
    document.getElementById('shortest').textContent = '≤ ' + atlas.number(Math.LN2 / q.scale[1], 0);
  }
  // classes have no ends of an interval to show
  function offerLayers() {
    var isJoint = shownOf() === 'joint';
    each('#layers input[name=layer]', function (input) {
      input.disabled = isJoint && input.value !== 'rate' && input.value !== 'none';
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

  // --- start: land and sites first, the prediction after them
  // looks at the sites that count: one place that was typed wrong must not make the others a dot
  var placed = sites.filter(function (s) { return s.latitude !== null; }), counting = placed.filter(function (s) { return s.rate !== null; });
  placed = (counting.length ? counting : placed).map(function (s) { return [s.latitude, s.longitude]; });
  if (placed.length) map.fitBounds(L.latLngBounds(placed).pad(0.08)); else map.setView([0, 0], 1);
  drawGround();
  var asked = new URLSearchParams(location.hash.slice(1));
  ['ecosystem', 'landUse', 'campaign', 'flag', 'use'].forEach(function (name) { if (asked.has(name)) form[name].value = asked.get(name); });
  refresh();
  drawLegend('rate');
  map.on('moveend', drawSites);
  map.on('zoomend', drawGround);
  map.on('mousemove', function (e) { read(e.latlng); });
  map.on('moveend', function () { if (document.activeElement === map.getContainer()) read(map.getCenter()); });
  map.on('mouseout', function () { reading.hidden = true; });
  form.addEventListener('change', refresh);
  form.addEventListener('reset', function () { setTimeout(refresh); });
  form.addEventListener('submit', function (e) { e.preventDefault(); });
  document.getElementById('listing').addEventListener('toggle', drawList);
  document.addEventListener('atlas-light', function () { drawGround(); });
  document.addEventListener('keydown', function (e) { if (e.key === 'Escape' && open) close(); });
  if (byKey.has(asked.get('site'))) choose(byKey.get(asked.get('site')), true);
  if (layers) {
    layers.addEventListener('change', drawPrediction);
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
      function show() { offerLayers(); bundle(); drawSites(); drawList(); drawPrediction(); document.documentElement.dataset.shown = shownOf(); }
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
  document.documentElement.dataset.map = 'ready';
})();
