// The legend of the map: what is shown, its colours, and round numbers where they stand along them.
(function () {
  'use strict';
  var atlas = window.atlas, prediction = atlas.prediction, element = atlas.element;
  function each(selector, act) { Array.prototype.forEach.call(document.querySelectorAll(selector), act); }

  function ticks(into, values, shareOf, text) {
    into.replaceChildren.apply(into, values.filter(function (v) { var s = shareOf(v); return s >= -0.001 && s <= 1.001; }).map(function (v) {
      var made = element('span', { 'data-value': v }, element('i', {}), text(v)), share = shareOf(v);
      made.style.left = 100 * share + '%';
      made.className = share < 0.06 ? 'first' : share > 0.94 ? 'last' : '';
      return made;
    }));
  }

  // of: k, s or joint; layer: rate, lower, upper, width, off or none
  atlas.legend = function (of, layer) {
    var isJoint = of === 'joint', by = layer === 'width' || layer === 'off' ? layer : 'value', joint = document.getElementById('legend-joint');
    document.getElementById('legend').hidden = false;
    document.getElementById('legend-scale').hidden = isJoint;
    if (joint) joint.hidden = !isJoint;
    each('.of-joint', function (e) { e.hidden = !isJoint; });
    each('[data-by]', function (e) { e.hidden = e.dataset.by !== by; });
    each('[data-part]', function (e) { e.hidden = e.dataset.part !== layer; });
    each('[data-unless]', function (e) { e.hidden = e.dataset.unless === layer; });
    var isShown = { off: layer === 'off', raster: layer !== 'off' && layer !== 'none', days: of === 'k' && by === 'value' };
    each('[data-when]', function (e) { e.hidden = !isShown[e.dataset.when]; });
    document.getElementById('half-lives').hidden = !isShown.days;
    var swatch = document.querySelector('.keys .site'), cluster = document.querySelector('.keys .cluster');
    var scale = isJoint ? null : prediction.scaleOf(of, layer), middle = layer === 'width' ? null : isJoint ? prediction.colourOfClass(1) : scale.colour(0.7);
    [swatch, cluster].forEach(function (key) {
      key.classList.toggle('plain', middle === null);
      key.style.backgroundColor = middle === null ? '' : prediction.css(middle);
      key.style.color = middle === null ? '' : prediction.isLight(middle) ? '#000' : '#fff';
    });
    if (isJoint) return;
    each('[data-what]', function (e) { e.hidden = e.dataset.what !== (by === 'value' ? of : by + '.' + of); });
    var ramp = document.getElementById('ramp'), pen = ramp.getContext('2d');
    for (var i = 0; i < 256; i++) { pen.fillStyle = prediction.css(scale.colour(i / 255)); pen.fillRect(i, 0, 1, 12); }
    ramp.className = layer === 'off' ? '' : 'open';
    var isFactor = of === 'k' && by !== 'value';
    ticks(document.getElementById('ticks'), scale.ticks, scale.shareOf, function (v) { return (of === 's' && layer === 'off' && v > 0 ? '+' : '') + atlas.number(v < 1 && isFactor ? Number(v.toPrecision(2)) : v); });
    ticks(document.getElementById('half-lives'), isShown.days ? scale.days : [], function (d) { return scale.shareOf(Math.LN2 / d); }, function (d) { return atlas.number(d); });
  };
})();
