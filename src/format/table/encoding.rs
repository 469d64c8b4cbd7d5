//! Bytes to text: the encodings that spreadsheets write.

use super::TableError;
use encoding_rs::{UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};
use std::fmt;

/// How a file holds its letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Encoding {
    /// UTF-8.
    Utf8,
    /// UTF-8 with a byte order mark.
    Utf8WithMark,
    /// UTF-16 with a byte order mark.
    Utf16,
    /// Windows-1252: what is not UTF-8 and has no mark.
    Windows1252,
    /// None: text from the clipboard.
    Pasted,
}

impl fmt::Display for Encoding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Utf8 => "UTF-8",
            Self::Utf8WithMark => "UTF-8 with mark",
            Self::Utf16 => "UTF-16",
            Self::Windows1252 => "Windows-1252",
            Self::Pasted => "pasted",
        })
    }
}

/// How the files of spreadsheet programs themselves begin, which are no text: packed ones, and old ones.
const SPREADSHEETS: [&[u8]; 2] = [b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"];

/// The text of `bytes`.
///
/// # Errors
/// A spreadsheet's own file, UTF-32, UTF-16 without its mark, zero bytes, or bytes that their mark belies.
pub(super) fn decode(bytes: &[u8]) -> Result<(Encoding, String), TableError> {
    if SPREADSHEETS.iter().any(|start| bytes.starts_with(start)) {
        return Err(TableError::Spreadsheet);
    }
    if bytes.starts_with(b"\xff\xfe\0\0") || bytes.starts_with(b"\0\0\xfe\xff") {
        return Err(TableError::NotText { what: "it is UTF-32".to_owned() });
    }
    let (encoding, table) = match bytes {
        [0xef, 0xbb, 0xbf, ..] => (Encoding::Utf8WithMark, UTF_8),
        [0xff, 0xfe, ..] => (Encoding::Utf16, UTF_16LE),
        [0xfe, 0xff, ..] => (Encoding::Utf16, UTF_16BE),
        _ if std::str::from_utf8(bytes).is_ok() => (Encoding::Utf8, UTF_8),
        _ => (Encoding::Windows1252, WINDOWS_1252),
    };
    if encoding != Encoding::Utf16
        && let Some(at) = bytes.iter().position(|byte| *byte == 0)
    {
        let line = bytes.iter().take(at).filter(|byte| **byte == b'\n').count() + 1;
        return Err(TableError::ZeroByte { line });
    }
    let (text, had_errors) = table.decode_with_bom_removal(bytes);
    if had_errors {
        return Err(TableError::NotText { what: format!("its mark says {encoding}, its bytes are not") });
    }
    Ok((encoding, text.into_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(bytes: &[u8], encoding: Encoding, text: &str) {
        assert_eq!(decode(bytes), Ok((encoding, text.to_owned())));
    }

    #[test]
    fn every_encoding_that_spreadsheets_write_is_read() {
        check("L\u{e4}nge".as_bytes(), Encoding::Utf8, "L\u{e4}nge");
        check("\u{feff}L\u{e4}nge".as_bytes(), Encoding::Utf8WithMark, "L\u{e4}nge");
        check(b"\xff\xfeL\0\xe4\0", Encoding::Utf16, "L\u{e4}");
        check(b"\xfe\xff\0L\0\xe4", Encoding::Utf16, "L\u{e4}");
        check(b"L\xe4nge \x80", Encoding::Windows1252, "L\u{e4}nge \u{20ac}");
        check(b"", Encoding::Utf8, "");
    }

    #[test]
    fn what_is_no_text_is_refused_by_its_kind() {
        assert_eq!(decode(b"PK\x03\x04rest"), Err(TableError::Spreadsheet));
        assert_eq!(decode(b"a\nb\0c"), Err(TableError::ZeroByte { line: 2 }));
        assert_eq!(decode(b"L\0e\0n\0"), Err(TableError::ZeroByte { line: 1 }));
        assert!(matches!(decode(b"\xef\xbb\xbfa\xff"), Err(TableError::NotText { .. })));
        assert!(matches!(decode(b"\xff\xfe\x00\xd8a\0"), Err(TableError::NotText { .. })));
        assert!(matches!(decode(b"\xff\xfe\0\0a\0\0\0"), Err(TableError::NotText { .. })));
    }
}
