//! Reading a plan: bytes, text, outline, version, fields, sense; each step with its own clear refusal.

use super::error::{Fault, ReadError};
use super::explain::Written;
use super::outline::{Node, line_and_column, start_of};
use super::scan::outline;
use super::v1::{self, FileOf};
use crate::model::{Plan, problems};
use ron::extensions::Extensions;
use ron::options::Options;
use serde::de::DeserializeOwned;
use serde_path_to_error::Track;

/// The most bytes that a plan file may have: 16 MiB, a few hundred times a full train.
pub const MOST_BYTES: usize = 16 * 1024 * 1024;

/// The most problems of one plan that are told at once.
const MOST_FAULTS: usize = 100;

/// Reads a plan.
///
/// The file is RON text in UTF-8, with or without a byte order mark, lines ending in LF or CR LF. The version is
/// looked for first and alone, so that a file of a newer program is told as such whatever else it holds.
///
/// # Errors
/// Too large, not text, empty, malformed or cut short, without a version or of a newer one, a field that is
/// unknown, missing, doubled or wrong, or a plan that has [`problems`]. Each names line, column, path and mend.
pub fn read(bytes: &[u8]) -> Result<Plan, ReadError> {
    let text = text_of(bytes)?;
    let root = outline_of(text)?;
    let written = Written { text, root: &root };
    match version_of(written)? {
        v1::VERSION => {}
        other => return Err(unknown_version(written, u64::from(other))),
    }
    let plan = typed::<v1::Plan>(written)?.into_model();
    let faults: Vec<Fault> = problems(&plan)
        .into_iter()
        .take(MOST_FAULTS)
        .map(|problem| written.fault_at(&problem.path, problem.what, problem.mend))
        .collect();
    if faults.is_empty() { Ok(plan) } else { Err(ReadError::Plan(faults)) }
}

/// The text of `bytes`, without a byte order mark.
pub(super) fn text_of(bytes: &[u8]) -> Result<&str, ReadError> {
    if bytes.len() > MOST_BYTES {
        return Err(ReadError::TooLarge { bytes: bytes.len(), limit: MOST_BYTES });
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    std::str::from_utf8(bytes).map_err(|error| {
        let sound = bytes.get(..error.valid_up_to()).unwrap_or_default();
        let sound = std::str::from_utf8(sound).unwrap_or_default();
        let place = line_and_column(sound, sound.len());
        let what = format!("byte {} is not UTF-8 text", sound.len());
        let mend = "save the file as UTF-8, or check that it is a plan".to_owned();
        ReadError::NotText(Fault::new(place, "", (what, mend)))
    })
}

/// The outline of `text`, which must hold something.
pub(super) fn outline_of(text: &str) -> Result<Node, ReadError> {
    outline(text).map_err(ReadError::Form)?.ok_or_else(|| {
        let words =
            ("the file is empty".to_owned(), "open another file, or restore it from a copy".to_owned());
        ReadError::Empty(Fault::new((1, 1), "", words))
    })
}

/// The version that the file says, whatever else it holds.
fn version_of(written: Written<'_>) -> Result<u32, ReadError> {
    let Some(item) = written.root.inner(written.text).field(written.text, "version") else {
        return Err(ReadError::NoVersion(written.fault_at(
            "",
            "the file does not say its version".to_owned(),
            format!(
                "check that it is a plan; if it is, write `version: {},` as its first field",
                v1::VERSION
            ),
        )));
    };
    let found = item.value.inner(written.text).span.of(written.text);
    match found.parse::<u64>() {
        Ok(version) if version >= 1 => u32::try_from(version).map_err(|_| unknown_version(written, version)),
        _ => Err(ReadError::NoVersion(written.fault_at(
            "version",
            format!("the version {} is not a whole number from 1", start_of(found)),
            format!("write `version: {}`", v1::VERSION),
        ))),
    }
}

fn unknown_version(written: Written<'_>, version: u64) -> ReadError {
    let known = v1::VERSION;
    ReadError::NewerVersion {
        version,
        known,
        fault: written.fault_at(
            "version",
            format!("the file was made by a newer Longstow: it has version {version}, this program knows up to {known}"),
            "update Longstow to open it".to_owned(),
        ),
    }
}

/// The file types of `written`, where every field is known, present and of its kind.
pub(super) fn typed<T: DeserializeOwned>(written: Written<'_>) -> Result<T, ReadError> {
    let options = Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    let mut track = Track::new();
    let mut reader = match ron::Deserializer::from_str_with_options(written.text, &options) {
        Ok(reader) => reader,
        Err(error) => return Err(ReadError::Field(written.explain(&error, &track.path()))),
    };
    let result = T::deserialize(serde_path_to_error::Deserializer::new(&mut reader, &mut track));
    let result = result.and_then(|value| reader.end().map(|()| value));
    result.map_err(|error| ReadError::Field(written.explain(&reader.span_error(error), &track.path())))
}
