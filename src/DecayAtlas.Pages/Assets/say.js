// Words, numbers and elements, shared by the scripts of the pages. Text from outside only ever becomes text.
(function () {
  'use strict';
  var words = window.atlasWords;

  function say(key) {
    var values = Array.prototype.slice.call(arguments, 1);
    // a count of one, and nothing in French, has a text of its own where there is one
    if ((values[0] === 1 || values[0] === '1' || (values[0] === 0 && document.documentElement.lang === 'fr')) && words[key + '.one'] !== undefined) key += '.one';
    return (words[key] === undefined ? key : words[key]).replace(/\{(\d)\}/g, function (_, i) { return values[i]; });
  }

  function word(code) { return code === null || code === undefined ? '–' : words['word.' + code] === undefined ? code : words['word.' + code]; }

  function unit(code) { return !code || code === '1' ? '' : words['unit.' + code] === undefined ? code : words['unit.' + code]; }

  function number(value, decimals) {
    if (value === null || value === undefined || !isFinite(value)) return '–';
    var text = decimals === undefined ? String(Number(value.toPrecision(3))) : value.toFixed(decimals);
    return text.replace('-', '−').replace('.', words['number.decimal']);
  }

  function count(n) { return String(n).replace(/\B(?=(\d{3})+(?!\d))/g, words['number.thousands']); }

  // element('p', {class: 'x'}, 'text', child, ...): texts are texts, never markup
  function element(name, attributes) {
    var drawn = /^(svg|path|line|circle|text|polyline|g|rect|title|tspan)$/.test(name);
    var made = drawn ? document.createElementNS('http://www.w3.org/2000/svg', name) : document.createElement(name);
    Object.keys(attributes || {}).forEach(function (key) { if (attributes[key] !== null && attributes[key] !== undefined) made.setAttribute(key, attributes[key]); });
    Array.prototype.slice.call(arguments, 2).forEach(function add(child) {
      if (child === null || child === undefined) return;
      if (Array.isArray(child)) child.forEach(add);
      else made.append(child instanceof Node ? child : String(child));
    });
    return made;
  }

  // what people call a flag, with its code quietly beside it
  function title(code) { return [words['flag.' + code + '.title'] || code, ' ', element('span', { class: 'nothing' }, code)]; }

  // what a flag means, in a language other than that of its findings
  function meaning(code) { return words['flag.' + code] === undefined ? null : [' ', words['flag.' + code]]; }

  // one finding: its own sentence, which is English, or on pages of another language its numbers, and the sentence where it has none
  function finding(flag) {
    if (!words.translated) return flag.explanation;
    if (flag.measured === null) return element('span', { lang: 'en' }, flag.explanation);
    return say('said.measured', number(flag.measured), unit(flag.unit)).trim() + (flag.limit === null ? '' : ', ' + say('said.limit', number(flag.limit), unit(flag.unit)).trim());
  }

  window.atlas = { say: say, word: word, number: number, count: count, element: element, unit: unit, title: title, meaning: meaning, finding: finding };
})();
