//! Writing a plan: the same plan gives the same bytes.

use super::layout::lay_out;
use super::scan::outline;
use super::v1::{self, FileOf};
use crate::model::Plan;
use ron::extensions::Extensions;
use ron::options::Options;
use serde::Serialize;

/// The first line of every file: fields that may be left out are written without `Some(..)`.
pub(super) const HEAD: &str = "#![enable(implicit_some)]\n";

/// The canonical text of `plan`: fields in a fixed order, one way for each number, lines ending in LF.
///
/// Numbers are written in the shortest form that reads back exactly; [`read`](super::read) of the text gives
/// an equal plan for every plan without [`problems`](crate::model::problems).
pub fn write(plan: &Plan) -> String {
    canonical(&v1::Plan::of(plan))
}

/// The canonical text of file types.
pub(super) fn canonical<T: Serialize>(file: &T) -> String {
    let options = Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    // Neither step can fail on file types: they hold only texts, finite numbers, lists and records.
    let compact = options.to_string(file).unwrap_or_default();
    let laid_out = outline(&compact).ok().flatten().map(|root| lay_out(&compact, &root));
    format!("{HEAD}{}", laid_out.unwrap_or(compact))
}
