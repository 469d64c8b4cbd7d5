//! Entries that count only together: what is typed is kept until the last of them is there.

use egui::Ui;

/// Draws `N` fields by `field` (their number, and what was typed so far) and gives all values once they are there.
///
/// `field` gives a changed entry; none within it where the field was emptied.
pub(super) fn gather_ui<const N: usize>(
    ui: &mut Ui,
    salt: &str,
    mut field: impl FnMut(&mut Ui, usize, Option<f64>) -> Option<Option<f64>>,
) -> Option<[f64; N]> {
    let id = ui.make_persistent_id(("gathered", salt));
    let mut typed = ui.data(|data| data.get_temp::<Vec<Option<f64>>>(id)).unwrap_or_default();
    typed.resize(N, None);
    for (at, value) in typed.iter_mut().enumerate() {
        if let Some(changed) = field(ui, at, *value) {
            *value = changed;
        }
    }
    let all: Vec<f64> = typed.iter().copied().flatten().collect();
    let all = <[f64; N]>::try_from(all).ok();
    ui.data_mut(|data| {
        if all.is_some() {
            data.remove_temp::<Vec<Option<f64>>>(id);
        } else {
            data.insert_temp(id, typed);
        }
    });
    all
}
