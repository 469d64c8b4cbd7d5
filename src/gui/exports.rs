//! Documents made from a plan, such as its sheets: from a finished document over the question where to, to the file.

use super::Workbench;
use super::dialogs::{Dialog, Purpose};
use super::files::chain;
use crate::disk::{DiskError, Expected, is_same_file, save};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A kind of document.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ExportFormat {
    /// Pages.
    Pdf,
    /// A drawing.
    Svg,
    /// A table for a spreadsheet.
    Csv,
}

/// A finished document that wants a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Export {
    /// What it is.
    pub format: ExportFormat,
    /// What is added to the plan's name for the name of its file, such as `sheets`.
    pub name: String,
    /// The whole of it.
    pub bytes: Arc<[u8]>,
}

impl ExportFormat {
    /// The extension of its files, without the point.
    pub fn extension(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Svg => "svg",
            Self::Csv => "csv",
        }
    }

    /// What a file dialog calls such files.
    pub fn title(self) -> &'static str {
        match self {
            Self::Pdf => "PDF documents",
            Self::Svg => "SVG drawings",
            Self::Csv => "CSV tables",
        }
    }
}

impl Workbench {
    /// Asks where a document is to go; what was made stays what is written, whatever happens to the plan meanwhile.
    pub(super) fn export(&mut self, export: Export) {
        let purpose = Purpose::Export(export.format);
        self.export = Some(export);
        self.ask_path(purpose);
    }

    /// Beside the plan, under the plan's name and the document's.
    pub(super) fn suggested_export(&self) -> PathBuf {
        let own = PathBuf::from(self.suggested_name());
        let path = self.document.path.clone().unwrap_or(own);
        let Some(export) = &self.export else { return path };
        let stem = path.file_stem().map_or_else(|| "plan".into(), |stem| stem.to_string_lossy().into_owned());
        path.with_file_name(format!("{stem}-{}.{}", export.name, export.format.extension()))
    }

    /// Writes to a path that the user just chose; the dialog has asked about a file that is there already.
    pub(super) fn export_under(&mut self, path: &Path) {
        // A name that the program completed was not seen by the dialog, so nothing may be lost there.
        let named = path.extension().is_some();
        self.export_to(path, if named { Expected::Anything } else { Expected::Nothing });
    }

    /// Writes the document, with its own extension where none was given.
    pub(super) fn export_to(&mut self, path: &Path, expected: Expected) {
        let Some(export) = &self.export else { return };
        let mut path = path.to_owned();
        if path.extension().is_none() {
            path.set_extension(export.format.extension());
        }
        if self.document.path.as_ref().is_some_and(|plan| is_same_file(plan, &path)) {
            self.export = None;
            let why = format!("{} is the plan that is open; give another name", path.display());
            self.failed("The document was not written".to_owned(), vec![why]);
            return;
        }
        match save(&path, &export.bytes, expected) {
            Ok(_) => {
                self.export = None;
                self.say(format!("Written to {}", path.display()));
            }
            Err(DiskError::AlreadyThere { .. }) => self.dialog = Some(Dialog::Replace { path }),
            Err(error) => {
                self.export = None;
                self.failed("The document was not written".to_owned(), vec![chain(&error)]);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Edit, OnDisk};
    use crate::gui::{Answer, Outside, Request, SAMPLES};
    use std::fs;

    fn editor() -> Workbench {
        Workbench::new(SAMPLES[0].plan().unwrap(), OnDisk::Yes)
    }

    fn asked(editor: &mut Workbench) -> PathBuf {
        let export = Export {
            format: ExportFormat::Pdf,
            name: "sheets".to_owned(),
            bytes: b"%PDF made".as_slice().into(),
        };
        editor.ask(Request::Export(export));
        let outside = editor.take_outside();
        let [Outside::AskPath { purpose: Purpose::Export(ExportFormat::Pdf), suggested }] =
            outside.as_slice()
        else {
            panic!("{outside:?}")
        };
        suggested.clone()
    }

    fn answer(editor: &mut Workbench, answer: Answer) {
        let dialog = editor.dialog.take().unwrap();
        editor.answered(dialog, answer);
    }

    #[test]
    fn a_document_goes_where_the_user_says_and_is_what_was_made_before() {
        let folder = tempfile::tempdir().unwrap();
        let mut editor = editor();
        let suggested = asked(&mut editor);
        assert!(suggested.to_string_lossy().ends_with("-sheets.pdf"), "{suggested:?}");
        editor.ask(Request::Edit(Edit::SetTitle { title: "Changed since".to_owned() }));
        let path = folder.path().join("a.pdf");
        editor.path_chosen(Some(path.clone()));
        assert_eq!(fs::read(&path).unwrap(), b"%PDF made");
        assert!(editor.document().is_touched(), "the plan itself is not saved by it");
        editor.path_chosen(Some(folder.path().join("b.pdf")));
        assert!(!folder.path().join("b.pdf").exists(), "an answer that nobody waits for");
    }

    #[test]
    fn a_document_is_never_written_over_the_open_plan() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("load.pdf");
        let text = crate::format::write(&SAMPLES[0].plan().unwrap());
        fs::write(&path, &text).unwrap();
        let mut editor = editor();
        editor.open_path(&path);
        asked(&mut editor);
        editor.path_chosen(Some(path.clone()));
        let Some(Dialog::Failed { lines, .. }) = editor.dialog() else { panic!("{:?}", editor.dialog()) };
        assert!(lines[0].contains("is the plan that is open"), "{lines:?}");
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
    }

    #[test]
    fn a_cancelled_dialog_writes_nothing() {
        let mut editor = editor();
        asked(&mut editor);
        editor.path_chosen(None);
        assert_eq!((editor.dialog(), &editor.export), (None, &None));
    }

    #[test]
    fn a_typed_path_gets_its_extension_and_replaces_only_on_purpose() {
        let folder = tempfile::tempdir().unwrap();
        let there = folder.path().join("there.pdf");
        fs::write(&there, "kept").unwrap();
        let mut editor = editor();
        for (means, expected) in [(Answer::Cancel, "kept"), (Answer::Overwrite, "%PDF made")] {
            asked(&mut editor);
            editor.no_file_dialog();
            assert!(matches!(editor.dialog(), Some(Dialog::TypePath { .. })));
            let typed = folder.path().join("there").display().to_string();
            let purpose = Purpose::Export(ExportFormat::Pdf);
            editor.dialog = Some(Dialog::TypePath { purpose, text: typed });
            answer(&mut editor, Answer::Take);
            assert!(matches!(editor.dialog(), Some(Dialog::Replace { .. })), "{:?}", editor.dialog());
            answer(&mut editor, means);
            assert_eq!(fs::read_to_string(&there).unwrap(), expected);
        }
    }

    #[test]
    fn where_it_cannot_be_written_the_user_is_told_why() {
        let mut editor = editor();
        asked(&mut editor);
        editor.path_chosen(Some("no-such-folder/a.pdf".into()));
        let Some(Dialog::Failed { lines, .. }) = editor.dialog() else { panic!("{:?}", editor.dialog()) };
        assert!(lines[0].contains("folder does not exist"), "{lines:?}");
    }
}
