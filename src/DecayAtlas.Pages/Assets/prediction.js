// What is predicted of k and of S, each alone or both as classes, as a picture that the browser paints from the numbers, and as numbers at a place.
(function () {
  'use strict';
  function rgb(hex) { return [1, 3, 5].map(function (i) { return parseInt(hex.slice(i, i + 2), 16); }); }
  function css(c) { return 'rgb(' + c.join(',') + ')'; }

  // relative luminance (WCAG 2): above 0.18 dark letters stand out more than white ones
  function luminance(c) {
    var linear = c.map(function (v) { v /= 255; return v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); });
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  }

  // a quantity with its colours and the round numbers of its legend: k on a logarithmic scale, S on a straight one
  function scaleFrom(given) {
    if (!given) return null;
    var stops = given.colours.map(rgb), scaled = given.isLog ? Math.log : Number, low = scaled(given.ends[0]), high = scaled(given.ends[1]);
    function colour(share) {
      var place = Math.min(Math.max(share, 0), 1) * (stops.length - 1), below = Math.min(Math.floor(place), stops.length - 2), part = place - below;
      return stops[below].map(function (c, i) { return Math.round(c + (stops[below + 1][i] - c) * part); });
    }
    function shareOf(value) { return (scaled(value) - low) / (high - low); }
    return { ends: given.ends, ticks: given.ticks, days: given.days, colour: colour, shareOf: shareOf, of: function (value) { return colour(shareOf(value)); },
      // k by factors, S by differences
      between: function (from, to) { return given.isLog ? to / from : to - from; },
      unsure: scaleFrom(given.unsure), off: scaleFrom(given.off) };
  }
  var quantities = { k: scaleFrom(window.atlasLand.k), s: scaleFrom(window.atlasLand.s) }, cuts = window.atlasLand.joint, classes = cuts ? cuts.colours.map(rgb) : [], guesses = cuts ? cuts.pale.map(rgb) : [];
  function scaleOf(of, layer) { return (layer === 'width' ? quantities[of].unsure : layer === 'off' ? quantities[of].off : null) || quantities[of]; }

  // 1 fast and little left, 2 fast and much left, 3 slow and little left, 4 slow and much left
  function classOf(rate, stabilisation) { return (rate >= cuts.rate ? 1 : 3) + (stabilisation >= cuts.stabilisation ? 1 : 0); }
  function oneSide(lower, upper, cut) { return lower >= cut || upper < cut; }

  function bytes(base64) {
    var text = atob(base64), made = new Uint8Array(text.length);
    for (var i = 0; i < text.length; i++) made[i] = text.charCodeAt(i);
    return made;
  }

  function unpack(data) {
    function values(packed) {
      if (!packed) return null;
      var raw = bytes(packed), view = new DataView(raw.buffer), made = new Float64Array(raw.length / 2);
      for (var i = 0; i < made.length; i++) {
        var code = view.getUint16(2 * i, true);
        made[i] = code === 0 ? NaN : data.low + (code - 1) / 65534 * data.range;
        if (data.isLog) made[i] = Math.exp(made[i]);
      }
      return made;
    }
    return { box: data, rate: values(data.rate), lower: values(data.lower), upper: values(data.upper), applies: data.applies ? bytes(data.applies) : null };
  }

  function paintCells(box, tintOf, isBeyond) {
    var canvas = document.createElement('canvas');
    canvas.width = box.columns; canvas.height = box.rows;
    var pen = canvas.getContext('2d'), picture = pen.createImageData(box.columns, box.rows);
    for (var i = 0; i < box.columns * box.rows; i++) {
      var tint = tintOf(i);
      if (!tint) continue;
      var column = i % box.columns, row = Math.floor(i / box.columns);
      // where the model does not apply the picture is pale, with slanted stripes that survive a grey print
      var veil = isBeyond(i), stripe = veil && (column + row) % 6 < 2;
      for (var c = 0; c < 3; c++) picture.data[4 * i + c] = stripe ? 96 : veil ? Math.round(tint[c] * 0.3 + 225 * 0.7) : tint[c];
      picture.data[4 * i + 3] = 255;
    }
    pen.putImageData(picture, 0, 0);
    return canvas;
  }
  function paint(map, of, layer, veiled) {
    var values = layer === 'width' ? map.rate : map[layer], q = scaleOf(of, layer);
    return paintCells(map.box, function (i) { return isNaN(values[i]) ? null : q.of(layer === 'width' ? q.between(map.lower[i], map.upper[i]) : values[i]); },
      function (i) { return veiled && map.applies && !map.applies[i]; });
  }
  // pale where an interval holds a cut
  function jointAt(rates, shares, i) {
    if (isNaN(rates.rate[i]) || isNaN(shares.rate[i])) return null;
    return { code: classOf(rates.rate[i], shares.rate[i]), told: oneSide(rates.lower[i], rates.upper[i], cuts.rate) && oneSide(shares.lower[i], shares.upper[i], cuts.stabilisation),
      applies: !!rates.applies[i] && !!shares.applies[i] };
  }
  function paintJoint(rates, shares, veiled) {
    return paintCells(rates.box, function (i) { var at = jointAt(rates, shares, i); return at && (at.told ? classes : guesses)[at.code - 1]; },
      function (i) { return veiled && !(rates.applies[i] && shares.applies[i]); });
  }

  function cellAt(box, latitude, longitude) {
    var column = Math.floor((longitude - box.west) / (box.east - box.west) * box.columns), row = Math.floor((box.north - latitude) / (box.north - box.south) * box.rows);
    return column < 0 || row < 0 || column >= box.columns || row >= box.rows ? -1 : row * box.columns + column;
  }
  function at(map, latitude, longitude) {
    var i = cellAt(map.box, latitude, longitude);
    if (i < 0 || isNaN(map.rate[i])) return null;
    return { rate: map.rate[i], lower: map.lower ? map.lower[i] : null, upper: map.upper ? map.upper[i] : null, applies: map.applies ? map.applies[i] === 1 : null };
  }

  window.atlas.prediction = {
    quantities: quantities, scaleOf: scaleOf, bytes: bytes, css: css, isLight: function (c) { return luminance(c) > 0.18; },
    classOf: classOf, colourOfClass: function (code) { return classes[code - 1]; },
    unpack: unpack, paint: paint, paintJoint: paintJoint, at: at,
    jointAt: function (rates, shares, latitude, longitude) { var i = cellAt(rates.box, latitude, longitude); return i < 0 ? null : jointAt(rates, shares, i); },
  };
})();
