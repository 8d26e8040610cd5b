//! Whether the coded data of a JPEG is all there: every block of every scan is read, code by code (ISO/IEC 10918-1,
//! annexes F and G).
//!
//! Decoders fill up with grey what is missing, each in its own way and most without a word; so this is found here.
//!
//! Owns: Huffman codes, blocks, restarts. Must not know: what the coefficients look like.

use super::bits::{Bits, CodeTable};

/// A picture's coding as far as it was read.
#[derive(Default)]
pub(super) struct Coded {
    progressive: bool,
    components: Vec<Component>,
    width: u32,
    height: u32,
    dc: [Option<CodeTable>; 4],
    ac: [Option<CodeTable>; 4],
    interval: u32,
}

struct Component {
    id: u8,
    across: u32,
    down: u32,
    /// Blocks across and down in a scan of its own.
    blocks: (u32, u32),
    /// Which coefficients of each block are not zero, in a picture that comes in several passes.
    filled: Vec<u64>,
    seen: bool,
}

/// What a scan codes: coefficients from and to, and whether it is the first pass over their bits.
#[derive(Clone, Copy)]
struct Band {
    from: u32,
    to: u32,
    first: bool,
}

impl Coded {
    /// Start of frame (B.2.2), 8 bits a sample.
    pub(super) fn frame(&mut self, marker: u8, body: &[u8]) -> Option<()> {
        let &[_, h1, h0, w1, w0, _, ref rest @ ..] = body else { return None };
        self.progressive = marker == 0xC2;
        (self.width, self.height) = (u16::from_be_bytes([w1, w0]).into(), u16::from_be_bytes([h1, h0]).into());
        let factors = |c: &[u8]| (u32::from(c[1] >> 4), u32::from(c[1] & 15));
        let parts: Vec<&[u8]> = rest.chunks_exact(3).collect();
        if parts.iter().any(|c| !(1..=4).contains(&factors(c).0) || !(1..=4).contains(&factors(c).1)) {
            return None;
        }
        let most = (parts.iter().map(|c| factors(c).0).max()?, parts.iter().map(|c| factors(c).1).max()?);
        for part in parts {
            let (across, down) = factors(part);
            let blocks = |size: u32, factor: u32, most: u32| (size * factor).div_ceil(most).div_ceil(8);
            let blocks = (blocks(self.width, across, most.0), blocks(self.height, down, most.1));
            let filled = if self.progressive { vec![0; blocks.0 as usize * blocks.1 as usize] } else { Vec::new() };
            self.components.push(Component { id: part[0], across, down, blocks, filled, seen: false });
        }
        Some(())
    }

    /// Huffman tables (B.2.4.2).
    pub(super) fn tables(&mut self, mut body: &[u8]) -> Option<()> {
        while let Some((&place, rest)) = body.split_first() {
            let (counts, rest) = rest.split_first_chunk::<16>()?;
            let count = counts.iter().map(|c| usize::from(*c)).sum::<usize>();
            let table = CodeTable::new(counts, rest.get(..count)?)?;
            let list = if place >> 4 == 0 { &mut self.dc } else { &mut self.ac };
            *list.get_mut(usize::from(place & 15))? = Some(table);
            body = &rest[count..];
        }
        Some(())
    }

    /// Restart interval (B.2.4.4).
    pub(super) fn restarts(&mut self, body: &[u8]) -> Option<()> {
        self.interval = u32::from(u16::from_be_bytes(*body.first_chunk()?));
        Some(())
    }

    /// One scan: its header (B.2.3) and its data.
    pub(super) fn scan(&mut self, header: &[u8], data: &[u8]) -> Option<()> {
        let (&count, rest) = header.split_first()?;
        let (parts, rest) = rest.split_at_checked(usize::from(count) * 2)?;
        let &[from, to, bits, ..] = rest else { return None };
        let mut taking = Vec::new();
        for part in parts.chunks_exact(2) {
            let at = self.components.iter().position(|c| c.id == part[0])?;
            taking.push((at, usize::from(part[1] >> 4), usize::from(part[1] & 15)));
        }
        let band = match self.progressive {
            true => Band { from: from.into(), to: to.into(), first: bits >> 4 == 0 },
            false => Band { from: 0, to: 63, first: true },
        };
        // G.1.1.1.1: all components at once only for the first coefficient.
        let fits = band.to <= 63 && band.from <= band.to && (1..=4).contains(&taking.len());
        let alone = taking.len() == 1;
        if !fits || (self.progressive && (band.from == 0) != (band.to == 0)) || (band.from > 0 && !alone) {
            return None;
        }
        let most = |f: fn(&Component) -> u32| self.components.iter().map(f).max();
        let (across, down) = match taking[..] {
            [(only, ..)] => self.components[only].blocks,
            _ => (self.width.div_ceil(8 * most(|c| c.across)?), self.height.div_ceil(8 * most(|c| c.down)?)),
        };
        let mut walk = Walk { bits: Bits::new(data), run: 0 };
        let units = across.checked_mul(down)?;
        for unit in 0..units {
            if self.interval > 0 && unit > 0 && unit % self.interval == 0 {
                walk.bits.restart((unit / self.interval - 1) as u8 % 8)?;
                walk.run = 0;
            }
            for &(at, dc, ac) in &taking {
                let component = &mut self.components[at];
                let blocks = if alone { 1 } else { component.across * component.down };
                for _ in 0..blocks {
                    let (dc, ac) = (self.dc.get(dc)?.as_ref(), self.ac.get(ac)?.as_ref());
                    match (self.progressive, band.from, band.first) {
                        (false, ..) => walk.whole(dc?, ac?)?,
                        (true, 0, true) => walk.first(dc?)?,
                        (true, 0, false) => drop(walk.bits.take(1)?),
                        (true, _, first) => {
                            let filled = component.filled.get_mut(unit as usize)?;
                            if first { walk.band(ac?, band, filled)? } else { walk.again(ac?, band, filled)? }
                        }
                    }
                }
            }
        }
        for (at, ..) in taking {
            self.components[at].seen |= band.from == 0;
        }
        Some(())
    }

    /// Whether every component was in a scan.
    pub(super) fn is_complete(&self) -> bool {
        !self.components.is_empty() && self.components.iter().all(|c| c.seen)
    }
}

struct Walk<'a> {
    bits: Bits<'a>,
    /// How many more blocks end before this band.
    run: u32,
}

impl Walk<'_> {
    /// The first coefficient (F.2.2.1).
    fn first(&mut self, dc: &CodeTable) -> Option<()> {
        let size = self.bits.symbol(dc)?;
        self.bits.take(u32::from(size).min(17))?;
        (size <= 15).then_some(())
    }

    /// A block of a picture that comes in one pass (F.2.2.2).
    fn whole(&mut self, dc: &CodeTable, ac: &CodeTable) -> Option<()> {
        self.first(dc)?;
        let mut at = 1;
        while at <= 63 {
            let symbol = self.bits.symbol(ac)?;
            let (zeros, size) = (u32::from(symbol >> 4), u32::from(symbol & 15));
            match (zeros, size) {
                (15, 0) => at += 16,
                (_, 0) => return Some(()),
                _ => {
                    at += zeros + 1;
                    self.bits.take(size)?;
                }
            }
        }
        (at <= 64).then_some(())
    }

    /// A band of a block, its first pass (G.1.2.2).
    fn band(&mut self, ac: &CodeTable, band: Band, filled: &mut u64) -> Option<()> {
        if self.run > 0 {
            self.run -= 1;
            return Some(());
        }
        let mut at = band.from;
        while at <= band.to {
            let symbol = self.bits.symbol(ac)?;
            let (zeros, size) = (u32::from(symbol >> 4), u32::from(symbol & 15));
            match (zeros, size) {
                (15, 0) => at += 16,
                (_, 0) => {
                    self.run = (1 << zeros) - 1 + self.bits.take(zeros)?;
                    return Some(());
                }
                _ => {
                    at += zeros;
                    self.bits.take(size)?;
                    if at > band.to {
                        return None;
                    }
                    *filled |= 1 << at;
                    at += 1;
                }
            }
        }
        Some(())
    }

    /// A band of a block once more, for one more bit of each coefficient (G.1.2.3).
    fn again(&mut self, ac: &CodeTable, band: Band, filled: &mut u64) -> Option<()> {
        let mut at = band.from;
        if self.run == 0 {
            while at <= band.to {
                let symbol = self.bits.symbol(ac)?;
                let (mut zeros, size) = (u32::from(symbol >> 4), symbol & 15);
                if size == 0 && zeros < 15 {
                    self.run = (1 << zeros) + self.bits.take(zeros)?;
                    break;
                }
                if size > 1 {
                    return None;
                }
                self.bits.take(size.into())?;
                // Past coefficients that are there, each with a bit of its own, and so many that are not.
                loop {
                    if at > band.to {
                        // Only a run of zeros may end with the band.
                        if size > 0 {
                            return None;
                        }
                        break;
                    }
                    if *filled >> at & 1 == 1 {
                        self.bits.take(1)?;
                    } else if zeros == 0 {
                        *filled |= u64::from(size) << at;
                        at += 1;
                        break;
                    } else {
                        zeros -= 1;
                    }
                    at += 1;
                }
            }
        }
        if self.run > 0 {
            let rest = (at..=band.to).filter(|k| *filled >> k & 1 == 1).count();
            for _ in 0..rest {
                self.bits.take(1)?;
            }
            self.run -= 1;
        }
        Some(())
    }
}
