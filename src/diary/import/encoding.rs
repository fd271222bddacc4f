//! Bytes as text: UTF-8, UTF-16 either way round, or the letters of old Windows programs.
//!
//! In: bytes, maybe a choice. Out: text and how its letters are written. Nothing is refused: what is no letter becomes
//! U+FFFD, and the rows it stands in are found bad later.
//!
//! Not here: what the text says (`table`).
//!
//! Tested by: `tests/document/logger.rs`.

use std::borrow::Cow;

use super::choices::{Encoding, Guess, How};

/// Bytes looked at to tell UTF-16 that has no byte-order mark.
const LOOKED_AT: usize = 4096;

/// The text of a file, without a byte-order mark, and how its letters are written.
pub(super) fn text_of(bytes: &[u8], chosen: Option<Encoding>) -> (Cow<'_, str>, Guess<Encoding>) {
    let encoding = Guess::or(chosen, || guess(bytes));
    let (text, _) = match encoding.value {
        Encoding::Utf8 => encoding_rs::UTF_8.decode_with_bom_removal(bytes),
        Encoding::Utf16Le => encoding_rs::UTF_16LE.decode_with_bom_removal(bytes),
        Encoding::Utf16Be => encoding_rs::UTF_16BE.decode_with_bom_removal(bytes),
        Encoding::Windows1252 => encoding_rs::WINDOWS_1252.decode_without_bom_handling(bytes),
    };
    (text, encoding)
}

fn guess(bytes: &[u8]) -> (Encoding, How) {
    match bytes {
        [0xef, 0xbb, 0xbf, ..] => return (Encoding::Utf8, How::Values),
        [0xff, 0xfe, ..] => return (Encoding::Utf16Le, How::Values),
        [0xfe, 0xff, ..] => return (Encoding::Utf16Be, How::Values),
        _ => {}
    }
    // Digits and plain letters in UTF-16 have a zero in every second byte.
    let looked_at = &bytes[..bytes.len().min(LOOKED_AT)];
    let zeros = |from: usize| {
        let every = looked_at.iter().skip(from).step_by(2);
        every.filter(|byte| **byte == 0).count()
    };
    let (first, second, pairs) = (zeros(0), zeros(1), looked_at.len() / 2);
    if 2 * second > pairs && 8 * first < pairs {
        return (Encoding::Utf16Le, How::Values);
    }
    if 2 * first > pairs && 8 * second < pairs {
        return (Encoding::Utf16Be, How::Values);
    }
    match std::str::from_utf8(bytes) {
        Ok(_) => (Encoding::Utf8, How::Values),
        // A file cut off inside a letter is still UTF-8.
        Err(err) if err.error_len().is_none() => (Encoding::Utf8, How::Values),
        Err(_) => (Encoding::Windows1252, How::Assumed),
    }
}
