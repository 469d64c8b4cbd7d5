//! What the user chose for the window itself: colours, the decimal mark, the size of everything; kept between
//! sessions.

use crate::disk::settings::SettingsFile;
use crate::units::DecimalMark;
use egui::{Context, ThemePreference};

/// Sizes that can be chosen, as shares of the usual one.
pub(super) const SIZES: [f32; 6] = [0.8, 0.9, 1.0, 1.15, 1.3, 1.5];

/// What the colours can follow.
pub(super) const COLOURS: [(&str, ThemePreference); 3] = [
    ("As the system", ThemePreference::System),
    ("Light", ThemePreference::Light),
    ("Dark", ThemePreference::Dark),
];

/// The choices.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Preferences {
    /// Light, dark or as the system.
    pub colours: ThemePreference,
    /// Decimal point or comma.
    pub decimal: DecimalMark,
    /// Size of everything; 1 is the usual size.
    pub size: f32,
}

impl Default for Preferences {
    fn default() -> Self {
        Self { colours: ThemePreference::System, decimal: DecimalMark::default(), size: 1.0 }
    }
}

impl Preferences {
    /// What `file` holds; what is missing there or cannot be read is as usual.
    pub(super) fn read(file: &SettingsFile) -> Self {
        let mut found = Self::default();
        for (name, value) in file.read().unwrap_or_default() {
            match (name.as_str(), value.as_str()) {
                ("colours", "light") => found.colours = ThemePreference::Light,
                ("colours", "dark") => found.colours = ThemePreference::Dark,
                ("decimal", "comma") => found.decimal = DecimalMark::Comma,
                ("size", size) => found.size = size.parse().unwrap_or(1.0),
                _ => {}
            }
        }
        // A size that nobody could read, or that leaves no room, would lock the user out.
        if !(0.5..=3.0).contains(&found.size) {
            found.size = 1.0;
        }
        found
    }

    /// Keeps them in `file` with what else is kept; a file that cannot be written is no reason to bother the user.
    pub(super) fn keep(&self, file: &SettingsFile, others: &[(String, String)]) {
        let colours = match self.colours {
            ThemePreference::System => "system",
            ThemePreference::Light => "light",
            ThemePreference::Dark => "dark",
        };
        let decimal = match self.decimal {
            DecimalMark::Point => "point",
            DecimalMark::Comma => "comma",
        };
        let mut settings = vec![
            ("colours", colours.to_owned()),
            ("decimal", decimal.to_owned()),
            ("size", self.size.to_string()),
        ];
        settings.extend(others.iter().map(|(name, value)| (name.as_str(), value.clone())));
        drop(file.keep(&settings));
    }

    /// The choices in force.
    pub(super) fn now(ctx: &Context, decimal: DecimalMark) -> Self {
        let colours = ctx.options(|options| options.theme_preference);
        Self { colours, decimal, size: ctx.zoom_factor() }
    }

    /// Puts colours and size in force; the decimal mark is the workbench's.
    pub(super) fn apply(&self, ctx: &Context) {
        ctx.set_theme(self.colours);
        ctx.set_zoom_factor(self.size);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tempfile::TempDir;

    fn file(folder: &TempDir) -> SettingsFile {
        SettingsFile::kept_in(&folder.path().join("settings"))
    }

    #[test]
    fn choices_come_back_in_the_next_session() {
        let folder = TempDir::new().unwrap();
        assert_eq!(Preferences::read(&file(&folder)), Preferences::default());
        let chosen = Preferences { colours: ThemePreference::Dark, decimal: DecimalMark::Comma, size: 1.15 };
        chosen.keep(&file(&folder), &[]);
        assert_eq!(Preferences::read(&file(&folder)), chosen);
    }

    #[test]
    fn a_size_that_leaves_no_room_is_not_taken() {
        for size in ["40", "0", "NaN", "large"] {
            let folder = TempDir::new().unwrap();
            file(&folder).keep(&[("size", size.to_owned())]).unwrap();
            assert!((Preferences::read(&file(&folder)).size - 1.0).abs() < 1e-6, "{size}");
        }
    }
}
