//! Bits of coded data, and Huffman codes (ISO/IEC 10918-1, annexes C and F.2.2).
//!
//! Owns: stuffed bytes, restart marks, codes. Must not know: what a symbol stands for.

/// How many bits of a code are looked up at once.
const QUICK: u32 = 9;

pub(super) struct CodeTable {
    /// By the next [`QUICK`] bits: the code's length and its symbol; a length of 0 where it is longer.
    quick: Vec<(u8, u8)>,
    /// By length: the first code that is longer, set to the left of 16 bits, and what leads from a code to its symbol.
    ends: [u32; 17],
    offsets: [i32; 17],
    symbols: Vec<u8>,
}

impl CodeTable {
    /// From the number of codes of each length, and their symbols. None where there are more codes than bits.
    pub(super) fn new(counts: &[u8; 16], symbols: &[u8]) -> Option<Self> {
        let mut table =
            Self { quick: vec![(0, 0); 1 << QUICK], ends: [0; 17], offsets: [0; 17], symbols: symbols.to_vec() };
        let (mut code, mut at) = (0u32, 0usize);
        for (length, &count) in (1u32..).zip(counts) {
            table.offsets[length as usize] = at as i32 - code as i32;
            for _ in 0..count {
                if code >= 1 << length {
                    return None;
                }
                if length <= QUICK {
                    let first = (code << (QUICK - length)) as usize;
                    let entry = (length as u8, *symbols.get(at)?);
                    table.quick.get_mut(first..first + (1 << (QUICK - length)))?.fill(entry);
                }
                code += 1;
                at += 1;
            }
            table.ends[length as usize] = code << (16 - length);
            code <<= 1;
        }
        Some(table)
    }
}

pub(super) struct Bits<'a> {
    data: &'a [u8],
    at: usize,
    held: u64,
    count: u32,
}

impl<'a> Bits<'a> {
    pub(super) fn new(data: &'a [u8]) -> Self {
        Self { data, at: 0, held: 0, count: 0 }
    }

    /// Holds bits up to 48 or to the next mark.
    fn fill(&mut self) {
        while self.count <= 48 {
            let byte = match self.data[self.at.min(self.data.len())..] {
                [0xFF, 0x00, ..] => {
                    self.at += 2;
                    0xFF
                }
                [0xFF, ..] | [] => return,
                [byte, ..] => {
                    self.at += 1;
                    byte
                }
            };
            self.held = self.held << 8 | u64::from(byte);
            self.count += 8;
        }
    }

    /// The next `count` bits, at most 17. None where there are fewer.
    pub(super) fn take(&mut self, count: u32) -> Option<u32> {
        if self.count < count {
            self.fill();
        }
        self.count = self.count.checked_sub(count)?;
        Some((self.held >> self.count) as u32 & ((1 << count) - 1))
    }

    pub(super) fn symbol(&mut self, table: &CodeTable) -> Option<u8> {
        if self.count < 16 {
            self.fill();
        }
        // What lies behind the last bit is taken as zeros; a code that needs them is not taken.
        let next = match self.count {
            0 => return None,
            n if n >= 16 => (self.held >> (n - 16)) as u32 & 0xFFFF,
            n => (self.held as u32 & ((1 << n) - 1)) << (16 - n),
        };
        let (length, symbol) = *table.quick.get((next >> (16 - QUICK)) as usize)?;
        let (length, symbol) = if length > 0 {
            (u32::from(length), symbol)
        } else {
            let length = (QUICK + 1..=16).find(|l| next < table.ends[*l as usize])?;
            let at = (next >> (16 - length)) as i32 + table.offsets[length as usize];
            (length, *table.symbols.get(usize::try_from(at).ok()?)?)
        };
        self.count = self.count.checked_sub(length)?;
        Some(symbol)
    }

    /// Passes the restart mark of this number, which must be next but for bits that fill up a byte.
    pub(super) fn restart(&mut self, number: u8) -> Option<()> {
        if self.count >= 8 {
            return None;
        }
        while self.data.get(self.at..self.at + 2) == Some(&[0xFF; 2]) {
            self.at += 1;
        }
        (self.data.get(self.at..self.at + 2)? == [0xFF, 0xD0 + number]).then_some(())?;
        (self.at, self.held, self.count) = (self.at + 2, 0, 0);
        Some(())
    }
}
