"""What a page does to words that are longer than the English, and which of its words no catalogue has said.

`look` answers a list of faults, empty where all is well: a plain English word that is seen, read out or offered in a field;
words that a box cuts off, that lie outside their button, or over one another; a page that scrolls sideways.
"""

from __future__ import annotations

import re
from typing import Any

from tests.words.pseudo import unmarked

__all__ = ["look", "words_in"]

# The texts of the page with where they stand, and every place that has too little room for its words.
_LOOK = r"""() => {
  const said = [], cut = [];
  const shown = e => e.checkVisibility({visibilityProperty: true, opacityProperty: true}) && e.getClientRects().length > 0;
  const tiny = e => { const {width, height} = e.getBoundingClientRect(); return width <= 2 || height <= 2; };
  const ears = e => { for (let up = e; up; up = up.parentElement) if (getComputedStyle(up).overflowX === 'hidden' && tiny(up)) return true; return false; };
  const name = e => `<${e.localName}${e.id ? '#' + e.id : ''}${e.getAttribute('class') ? '.' + e.getAttribute('class').split(' ')[0] : ''}>`;
  const brief = t => t.trim().replace(/\s+/g, ' ').slice(0, 60);
  const foreign = e => e.closest('[lang]').lang !== document.documentElement.lang;
  const pen = document.createElement('canvas').getContext('2d');
  const wide = (text, style) => { pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`; return pen.measureText(text).width; };
  const lines = [];
  said.push(['title', document.title]);
  for (const e of document.querySelectorAll('body *')) {
    if (['SCRIPT', 'STYLE', 'TEMPLATE', 'NOSCRIPT'].includes(e.tagName)) continue;
    if (!foreign(e)) {
      for (const a of ['aria-label', 'aria-description', 'aria-roledescription', 'aria-valuetext', 'title', 'alt', 'placeholder']) {
        if (e.getAttribute(a)) said.push([name(e) + ' ' + a, e.getAttribute(a)]);
      }
      for (const node of e.childNodes) if (node.nodeType === Node.TEXT_NODE && node.data.trim()) said.push([name(e), node.data]);
    }
    if (!shown(e)) continue;
    const style = getComputedStyle(e), box = e.getBoundingClientRect();
    const inner = box.width - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - parseFloat(style.borderLeftWidth) - parseFloat(style.borderRightWidth);
    if (e.localName === 'select') {
      const text = e.selectedOptions[0]?.text ?? '';
      // Where a menu is too narrow for a name, the name stands below it as well.
      const whole = e.nextElementSibling?.hasAttribute('data-cut') ? e.nextElementSibling.textContent : '';
      if (wide(text, style) > inner + 1.5 && whole !== text) cut.push(`${name(e)} shows ${Math.round(inner)} of ${Math.round(wide(text, style))} px of its choice: ${brief(text)}`);
      continue;
    }
    if (e.localName === 'input' && e.placeholder && !e.value) {
      if (wide(e.placeholder, style) > inner + 1.5) cut.push(`${name(e)} shows ${Math.round(inner)} of ${Math.round(wide(e.placeholder, style))} px of its placeholder: ${brief(e.placeholder)}`);
      continue;
    }
    if (e instanceof SVGElement || ears(e) || e.closest('.blank-whole:not([data-cut])')) continue;
    for (const node of e.childNodes) {
      if (node.nodeType !== Node.TEXT_NODE || !node.data.trim()) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const rects = [...range.getClientRects()].filter(r => r.width > 1);
      if (!rects.length) continue;
      let box_ = null, held = false;
      for (let up = e; up && up !== document.documentElement; up = up.parentElement) {
        const s = getComputedStyle(up), b = up.getBoundingClientRect();
        if (s.position === 'fixed') box_ = box_ ?? up;
        const x = ['hidden', 'clip'].includes(s.overflowX), y = ['hidden', 'clip'].includes(s.overflowY);
        const over = r => x && (r.left < b.left - 1.5 || r.right > b.right + 1.5) || y && (r.top + r.height * 0.25 < b.top || r.bottom - r.height * 0.25 > b.bottom);
        if (up === e && e.title === e.textContent) { held = true; break; }  // one line of what a pointer shows whole
        if ((x || y) && up !== document.body && rects.some(over)) { cut.push(`${name(up)} cuts off: ${brief(node.data)}`); held = true; break; }
        if (['auto', 'scroll'].includes(s.overflowX)) held = true;  // it can be moved into sight
        if (['BUTTON', 'A', 'SUMMARY', 'TH', 'TD', 'LI'].includes(up.tagName) && s.display !== 'inline' && s.display !== 'contents'
            && rects.some(r => r.left < b.left - 1.5 || r.right > b.right + 1.5 || r.top < b.top - 4 || r.bottom > b.bottom + 4)) cut.push(`${name(up)} is left by: ${brief(node.data)}`);
      }
      if (!held && rects.some(r => r.left < -1 || r.right > innerWidth + 1)) cut.push(`the window cuts off: ${brief(node.data)}`);
      // What is scrolled out of its box is not seen, and letters are lower than their line.
      const seen = rects.map(r => {
        let {left, top, right, bottom} = r;
        for (let up = e; up; up = up.parentElement) {
          const s = getComputedStyle(up), b = up.getBoundingClientRect();
          if (s.overflowX !== 'visible') { left = Math.max(left, b.left); right = Math.min(right, b.right); top = Math.max(top, b.top); bottom = Math.min(bottom, b.bottom); }
          if (s.position === 'fixed') break;
        }
        const thin = (bottom - top) * 0.25;
        return {left: left + 3, right: right - 3, top: top + thin, bottom: bottom - thin};
      }).filter(r => r.left < r.right && r.top < r.bottom && r.bottom - r.top > 2);
      lines.push({e, text: brief(node.data), rects: seen});
    }
  }
  // Words over words of the same layer: a menu that is open lies over the page.
  const layer = n => { for (let up = n; up; up = up.parentElement) if (!['static', 'relative'].includes(getComputedStyle(up).position)) return up; return null; };
  for (const [at, {e, text, rects}] of lines.entries()) {
    const other = lines.slice(at + 1).find(o => !o.e.contains(e) && !e.contains(o.e) && layer(e) === layer(o.e)
      && rects.some(r => o.rects.some(q => q.left < r.right && r.left < q.right && q.top < r.bottom && r.top < q.bottom)));
    if (other) cut.push(`over one another: ${text} | ${other.text}`);
  }
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) cut.push(`the page is ${root.scrollWidth} px wide in ${root.clientWidth}`);
  return [said, [...new Set(cut)]];
}"""

# The ids by which a key names its items ("make-parallel 2 · 1234"), addresses, and the word that `tests.in_sight` adds to a
# sentence to make it wrong, quoted from what was handed in.
_OWN = re.compile(r"“not”|\b[a-z]+(?:-[a-z]+)+\b|https?://\S+|\S*/\S*/\S*")


def words_in(text: str) -> list[str]:
    return unmarked(_OWN.sub(" ", text))


def look(page: Any, where: str) -> list[str]:
    said, cut = page.evaluate(_LOOK)
    assert len(said) > 3, where
    plain = [
        f"{where}: plain {words} in {place}: {text.strip()[:90]}" for place, text in said if (words := words_in(text))
    ]
    return list(dict.fromkeys([*plain, *(f"{where}: {one}" for one in cut)]))
