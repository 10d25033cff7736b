// Bytes on stdin as text of base 85 on stdout, for a page.
// Four bytes (big-endian) are five characters, a last group of n bytes n + 1; the page's unpacked() reads it.
// The characters mean nothing to HTML, to CMake's lists or in a text of JavaScript.
import {readFileSync} from 'node:fs';

const ALPHABET = '!#%()*+,-./0123456789:=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ^_`abcdefghijklmnopqrstuvwxyz{|}~';
const packed = readFileSync(0);
const groups = [];
for (let at = 0; at < packed.length; at += 4) {
  const count = Math.min(4, packed.length - at);
  let value = 0;
  for (let i = 0; i < 4; ++i) value = value * 256 + (i < count ? packed[at + i] : 0);
  let group = '';
  for (let i = 0; i < 5; ++i) {
    group = ALPHABET[value % 85] + group;
    value = Math.floor(value / 85);
  }
  groups.push(group.slice(0, count + 1));
}
process.stdout.write(groups.join(''));
