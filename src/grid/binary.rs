//! What the two binary formats of Microsoft's workbooks, .xls and .xlsb, have in common.

use super::Value;
use super::error::Damage;

/// Bytes taken from the front, little end first.
#[derive(Clone, Copy)]
pub(super) struct Bytes<'b>(pub &'b [u8]);

impl<'b> Bytes<'b> {
    /// The next bytes, which there must be.
    pub(super) fn take(&mut self, count: usize) -> Result<&'b [u8], Damage> {
        let (taken, rest) = self.0.split_at_checked(count).ok_or_else(Damage::breaks_off)?;
        self.0 = rest;
        Ok(taken)
    }

    fn array<const N: usize>(&mut self) -> Result<[u8; N], Damage> {
        let (taken, rest) = self.0.split_first_chunk().ok_or_else(Damage::breaks_off)?;
        self.0 = rest;
        Ok(*taken)
    }

    pub(super) fn u8(&mut self) -> Result<u8, Damage> {
        self.array().map(u8::from_le_bytes)
    }

    pub(super) fn u16(&mut self) -> Result<u16, Damage> {
        self.array().map(u16::from_le_bytes)
    }

    pub(super) fn u32(&mut self) -> Result<u32, Damage> {
        self.array().map(u32::from_le_bytes)
    }

    pub(super) fn f64(&mut self) -> Result<f64, Damage> {
        self.array().map(f64::from_le_bytes)
    }

    /// A number squeezed into 32 bits: the upper half of a double or a whole number of 30 bits, the
    /// last bit telling of hundredths ([MS-XLS] 2.5.217).
    pub(super) fn squeezed(&mut self) -> Result<f64, Damage> {
        let bits = self.u32()?;
        let whole = bits & 2 != 0;
        let number = if whole {
            f64::from(bits.cast_signed() >> 2)
        } else {
            f64::from_bits(u64::from(bits & !3) << 32)
        };
        Ok(if bits & 1 == 0 { number } else { number / 100.0 })
    }
}

/// UTF-16, little end first.
pub(super) fn wide(bytes: &[u8]) -> String {
    let units = bytes.chunks_exact(2).map(|unit| u16::from_le_bytes([unit[0], unit[1]]));
    char::decode_utf16(units).map(|character| character.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

/// An error value by its code ([MS-XLS] 2.5.10).
pub(super) fn error(code: u8) -> Value {
    let name = match code {
        0x00 => "#NULL!",
        0x07 => "#DIV/0!",
        0x0F => "#VALUE!",
        0x17 => "#REF!",
        0x1D => "#NAME?",
        0x24 => "#NUM!",
        0x2A => "#N/A",
        0x2B => "#GETTING_DATA",
        other => return Value::Error(format!("error {other}").into()),
    };
    Value::Error(name.into())
}

#[cfg(test)]
mod tests {
    use super::Bytes;

    #[test]
    fn squeezed_numbers_are_whole_or_half_a_double_and_may_be_hundredths() {
        let cases = [
            // 1 as a double is 3FF00000 00000000.
            (0x3FF0_0000, 1.0),
            (0x3FF0_0001, 0.01),
            ((36 << 2) | 2, 36.0),
            ((3625 << 2) | 3, 36.25),
            (0xFFFF_FFFE, -1.0),
        ];
        for (bits, number) in cases {
            let bits: u32 = bits;
            assert_eq!(Bytes(&bits.to_le_bytes()).squeezed().ok(), Some(number), "{bits:X}");
        }
        assert!(Bytes(&[1, 2, 3]).squeezed().is_err());
    }
}
