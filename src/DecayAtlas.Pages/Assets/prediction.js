// The predicted rate as a picture that the browser paints from the numbers, and as numbers at a place.
(function () {
  'use strict';
  var stops = window.atlasLand.ramp.map(function (hex) { return [1, 3, 5].map(function (i) { return parseInt(hex.slice(i, i + 2), 16); }); });

  function colour(share) {
    var place = Math.min(Math.max(share, 0), 1) * (stops.length - 1), below = Math.min(Math.floor(place), stops.length - 2), part = place - below;
    return stops[below].map(function (c, i) { return Math.round(c + (stops[below + 1][i] - c) * part); });
  }

  // relative luminance (WCAG 2): above 0.18 dark letters stand out more than white ones
  function luminance(c) {
    var linear = c.map(function (v) { v /= 255; return v <= 0.04045 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); });
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  }

  var scale = window.atlasLand.scale, lnLow = Math.log(scale[0]), lnHigh = Math.log(scale[1]);
  function shareOf(rate) { return (Math.log(rate) - lnLow) / (lnHigh - lnLow); }

  function bytes(base64) {
    var text = atob(base64), made = new Uint8Array(text.length);
    for (var i = 0; i < text.length; i++) made[i] = text.charCodeAt(i);
    return made;
  }

  function unpack(data) {
    function rates(packed) {
      if (!packed) return null;
      var raw = bytes(packed), view = new DataView(raw.buffer), made = new Float64Array(raw.length / 2);
      for (var i = 0; i < made.length; i++) {
        var code = view.getUint16(2 * i, true);
        made[i] = code === 0 ? NaN : Math.exp(data.lnLow + (code - 1) / 65534 * data.lnRange);
      }
      return made;
    }
    return { box: data, rate: rates(data.rate), lower: rates(data.lower), upper: rates(data.upper), applies: data.applies ? bytes(data.applies) : null };
  }

  // the factor between the ends of the interval, from 1 (sure) to 10
  function widthShare(lower, upper) { return Math.log(upper / lower) / Math.log(10); }

  function paint(map, layer, veiled) {
    var box = map.box, canvas = document.createElement('canvas');
    canvas.width = box.columns; canvas.height = box.rows;
    var pen = canvas.getContext('2d'), picture = pen.createImageData(box.columns, box.rows), values = layer === 'width' ? map.rate : map[layer];
    for (var i = 0; i < values.length; i++) {
      if (isNaN(values[i])) continue;
      var tint = colour(layer === 'width' ? widthShare(map.lower[i], map.upper[i]) : shareOf(values[i]));
      var column = i % box.columns, row = Math.floor(i / box.columns);
      // where the model does not apply the picture is pale, with slanted stripes that survive a grey print
      var pale = veiled && map.applies && !map.applies[i], stripe = pale && (column + row) % 6 < 2;
      for (var c = 0; c < 3; c++) picture.data[4 * i + c] = stripe ? 96 : pale ? Math.round(tint[c] * 0.3 + 225 * 0.7) : tint[c];
      picture.data[4 * i + 3] = 255;
    }
    pen.putImageData(picture, 0, 0);
    return canvas;
  }

  function at(map, latitude, longitude) {
    var box = map.box;
    var column = Math.floor((longitude - box.west) / (box.east - box.west) * box.columns), row = Math.floor((box.north - latitude) / (box.north - box.south) * box.rows);
    if (column < 0 || row < 0 || column >= box.columns || row >= box.rows) return null;
    var i = row * box.columns + column;
    if (isNaN(map.rate[i])) return null;
    return { rate: map.rate[i], lower: map.lower ? map.lower[i] : null, upper: map.upper ? map.upper[i] : null, applies: map.applies ? map.applies[i] === 1 : null };
  }

  window.atlas.prediction = {
    colour: colour, css: function (rate) { return 'rgb(' + colour(shareOf(rate)).join(',') + ')'; },
    isLight: function (rate) { return luminance(colour(shareOf(rate))) > 0.18; },
    scale: scale, unpack: unpack, paint: paint, at: at,
  };
})();
