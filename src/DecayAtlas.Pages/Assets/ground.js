// What lies under the sites: water, land with its relief, the coast, names of places, and degrees.
(function () {
  'use strict';
  var atlas = window.atlas, say = atlas.say, element = atlas.element, land = window.atlasLand, relief = window.atlasRelief;
  var named = { linejoin: 'round', fill: 'none', 'vector-effect': 'non-scaling-stroke' };

  function rgb(css) {
    var probe = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
    probe.fillStyle = css;
    probe.fillRect(0, 0, 1, 1);
    return probe.getImageData(0, 0, 1, 1).data;
  }

  // the edges between cells that are in and cells that are out, along each row and down each column in as long strokes as go
  function edges(columns, rows, isIn) {
    var path = '';
    function at(x, y) { return x >= 0 && y >= 0 && x < columns && y < rows && isIn(y * columns + x); }
    function walk(along, across, differs, move, stroke) {
      for (var b = 0; b <= across; b++) for (var a = 0; a < along; a++) {
        if (!differs(a, b)) continue;
        var from = a;
        while (a < along && differs(a, b)) a++;
        path += move(from, b) + stroke + (a - from);
      }
    }
    walk(columns, rows, function (x, y) { return at(x, y - 1) !== at(x, y); }, function (x, y) { return 'M' + x + ' ' + y; }, 'h');
    walk(rows, columns, function (y, x) { return at(x - 1, y) !== at(x, y); }, function (y, x) { return 'M' + x + ' ' + y; }, 'v');
    return path;
  }

  function boundsOf(box) { return [[box.south, box.west], [box.north, box.east]]; }
  function frameOf(box) { return element('svg', { viewBox: '0 0 ' + box.columns + ' ' + box.rows, preserveAspectRatio: 'none', 'aria-hidden': 'true' }); }

  // full light is paler and shade darker than level ground, whose shade the sun half-way up makes 181
  function paintLand(shades, ground, isDark) {
    var canvas = document.createElement('canvas');
    canvas.width = relief.columns; canvas.height = relief.rows;
    var pen = canvas.getContext('2d'), picture = pen.createImageData(relief.columns, relief.rows);
    for (var i = 0; i < shades.length; i++) {
      if (!shades[i]) continue;
      var light = shades[i] / 181;
      for (var c = 0; c < 3; c++) picture.data[4 * i + c] = light < 1 ? ground[c] * (0.35 + 0.65 * light) : ground[c] + (255 - ground[c]) * (light - 1) * (isDark ? 0.5 : 1.1);
      picture.data[4 * i + 3] = 255;
    }
    pen.putImageData(picture, 0, 0);
    return canvas;
  }

  atlas.ground = function (map) {
    function style(name) { return getComputedStyle(document.documentElement).getPropertyValue(name).trim(); }
    var painters = {};
    [['ground', 200], ['water', 210], ['relief', 220], ['prediction', 250], ['coast', 300], ['lines', 310], ['names', 450]].forEach(function (pane) {
      map.createPane(pane[0]).style.zIndex = pane[1];
      map.getPane(pane[0]).setAttribute('aria-hidden', pane[0] === 'prediction' ? 'false' : 'true');
      map.getPane(pane[0]).style.pointerEvents = 'none';
    });
    ['ground', 'lines'].forEach(function (pane) { painters[pane] = L.svg({ pane: pane, padding: 0.5 }); });
    var outlines = L.layerGroup().addTo(map), lines = L.layerGroup().addTo(map), names = L.layerGroup().addTo(map), heights = L.layerGroup().addTo(map);
    var shades = relief ? atlas.prediction.bytes(relief.shades) : null, shore = relief ? edges(relief.columns, relief.rows, function (i) { return shades[i] > 0; }) : null, shown = null;
    var degrees = element('div', { class: 'degrees', 'aria-hidden': 'true' });
    map.getContainer().append(degrees);

    // water is a little darker along a shore, as on printed maps
    var tints = [[17, 0.3], [9, 0.45], [4, 0.6]];
    function drawOutlines() {
      outlines.clearLayers();
      var rings = land.polygons.map(function (p) { return p.map(function (ring) { return ring.map(function (c) { return [c[1], c[0]]; }); }); });
      function polygon(options) { L.polygon(rings, Object.assign({ renderer: painters.ground, pane: 'ground', interactive: false, fill: false }, options)).addTo(outlines); }
      if (!relief) tints.forEach(function (t) { polygon({ color: style('--shallow'), weight: t[0], opacity: t[1] }); });
      polygon({ color: style('--coast'), weight: 1, fill: true, fillColor: style('--land'), fillOpacity: 1 });
    }
    function drawRelief() {
      heights.clearLayers();
      if (!relief) return;
      var water = frameOf(relief), coast = frameOf(relief), isDark = document.documentElement.dataset.light ? document.documentElement.dataset.light === 'dark' : matchMedia('(prefers-color-scheme: dark)').matches;
      water.append(element('rect', { width: relief.columns, height: relief.rows, fill: style('--sea') }));
      tints.forEach(function (t) { water.append(element('path', Object.assign({ d: shore, stroke: style('--shallow'), 'stroke-width': t[0], 'stroke-opacity': t[1], 'stroke-linecap': 'round' }, named))); });
      coast.append(element('path', Object.assign({ d: shore, stroke: style('--shore'), 'stroke-width': 1.1, 'stroke-linecap': 'round' }, named)));
      L.svgOverlay(water, boundsOf(relief), { pane: 'water' }).addTo(heights);
      L.svgOverlay(paintLand(shades, rgb(style('--land')), isDark), boundsOf(relief), { pane: 'relief' }).addTo(heights);
      L.svgOverlay(coast, boundsOf(relief), { pane: 'coast' }).addTo(heights);
    }

    // without heights the edge of what is predicted is drawn
    function edge(box, isIn) {
      if (shown) shown.remove();
      shown = null;
      if (relief || !box) return;
      var coast = frameOf(box);
      coast.append(element('path', Object.assign({ d: edges(box.columns, box.rows, isIn), stroke: style('--shore'), 'stroke-width': 1 }, named)));
      shown = L.svgOverlay(coast, boundsOf(box), { pane: 'coast' }).addTo(map);
    }

    var steps = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 45, 90];
    function drawLines() {
      lines.clearLayers();
      degrees.replaceChildren();
      var box = map.getBounds().pad(0.02), size = map.getSize(), across = box.getEast() - box.getWest();
      var step = steps.find(function (s) { return across / s <= Math.max(3, size.x / 130); }) || 90, digits = step < 0.1 ? 2 : step < 1 ? 1 : 0;
      function each(from, to, act) { for (var i = Math.ceil(from / step); i * step <= to; i++) act(i * step); }
      function line(points) { L.polyline(points, { renderer: painters.lines, pane: 'lines', color: style('--graticule'), weight: 1, opacity: 0.4, interactive: false }).addTo(lines); }
      function label(text, left, top) {
        var made = element('span', {}, text);
        made.style.left = left === null ? '' : left + 'px';
        made.style.top = top === null ? '' : top + 'px';
        made.className = left === null ? 'of-latitude' : 'of-longitude';
        degrees.append(made);
      }
      function told(value, positive, negative) { return atlas.number(Math.abs(value), digits) + '°' + (Math.abs(value) < 1e-9 ? '' : ' ' + say(value > 0 ? positive : negative)); }
      each(Math.max(box.getSouth(), -90), Math.min(box.getNorth(), 90), function (lat) {
        line([[lat, box.getWest()], [lat, box.getEast()]]);
        var y = map.latLngToContainerPoint([lat, 0]).y;
        if (y > 96 && y < size.y - 44) label(told(lat, 'site.north', 'site.south'), null, y);
      });
      each(box.getWest(), box.getEast(), function (lon) {
        line([[Math.max(box.getSouth(), -90), lon], [Math.min(box.getNorth(), 90), lon]]);
        var x = map.latLngToContainerPoint([0, lon]).x, turned = ((lon + 180) % 360 + 360) % 360 - 180;
        if (x > 70 && x < size.x - 30) label(told(turned, 'site.east', 'site.west'), x, null);
      });
    }

    // the name of a place stands where it has room, the larger place first, beside marks and not under them; where that would be
    // too far from the place it is left out
    var tries = [[0, 0]];
    [1, 2, 3].forEach(function (r) { [[0, -1], [0, 1], [-1, 0], [1, 0], [-1, -1], [1, -1], [-1, 1], [1, 1]].forEach(function (d) { tries.push([d[0] * r * 40, d[1] * r * 26]); }); });
    function drawNames(marks) {
      names.clearLayers();
      var taken = marks.slice(), size = map.getSize(), pixels = map.latLngToContainerPoint([0, 1]).x - map.latLngToContainerPoint([0, 0]).x;
      land.places.forEach(function (p) {
        var across = (p[6] - p[4]) * pixels, tall = (p[5] - p[3]) * pixels, isPoint = p[6] === p[4], isLarge = across > 220, width = p[0].length * (isLarge ? 12.5 : 7.5) + 8, at = map.latLngToContainerPoint([p[1], p[2]]);
        if (isPoint ? pixels < 25 : across < width * 0.8) return;
        var free = tries.find(function (by) {
          var x = at.x + by[0], y = at.y + by[1], isNear = isPoint ? Math.abs(by[0]) <= 80 && Math.abs(by[1]) <= 52 : Math.abs(by[0]) <= across * 0.35 && Math.abs(by[1]) <= tall * 0.35;
          // the degrees of latitude stand along the left edge
          return isNear && x - width / 2 > 50 && x + width / 2 < size.x && !taken.some(function (o) { return Math.abs(o[0] - x) < (o[1] + width) / 2 && Math.abs(o[2] - y) < o[3] / 2 + 10; });
        });
        if (!free) return;
        taken.push([at.x + free[0], width, at.y + free[1], 20]);
        L.marker(map.containerPointToLatLng([at.x + free[0], at.y + free[1]]), { pane: 'names', interactive: false, keyboard: false, icon: L.divIcon({ className: 'place' + (isLarge ? ' large' : ''), html: element('span', {}, p[0]), iconSize: [0, 0] }) }).addTo(names);
      });
    }

    function draw() { drawOutlines(); drawRelief(); drawLines(); }
    map.on('move zoomend resize', drawLines);
    return { draw: draw, edge: edge, name: drawNames };
  };
})();
