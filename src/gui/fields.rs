//! Typed fields: a draft while the user types, a value when they are done, and the reason where it cannot be read.
//!
//! The plan changes only when a field is left or Enter is pressed, so that one entry is one step of undo.
//! Escape puts the old value back.

use super::entered;
use super::glossary::explained;
use super::{Role, Theme};
use crate::units::{
    Length, Quantity, QuantityKind, Style, UnitSystem, parse_length, parse_mass_kg, parse_number,
};
use egui::text::{CCursor, CCursorRange};
use egui::{Id, RichText, TextEdit, Ui};

/// What a field is called, how wide it is, and what it says while empty.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spec<'a> {
    /// Its name, for screen readers and for the label beside it.
    pub name: &'a str,
    /// Width in points.
    pub width: f32,
    /// Said while it is empty.
    pub hint: &'a str,
}

impl<'a> Spec<'a> {
    /// A field of the usual width.
    pub(super) fn new(name: &'a str) -> Self {
        Self { name, width: 96.0, hint: "" }
    }

    /// Another width.
    pub(super) fn wide(self, width: f32) -> Self {
        Self { width, ..self }
    }

    /// Words to say while it is empty.
    pub(super) fn hint(self, hint: &'a str) -> Self {
        Self { hint, ..self }
    }
}

#[derive(Clone, Debug, Default)]
struct Draft {
    text: String,
    refused: Option<String>,
    /// When it was changed last, in seconds of the window's clock.
    changed_at: f64,
}

/// A field that shows `now` and gives what `read` makes of the text once the user is done with it.
pub(super) fn typed_ui<T>(
    ui: &mut Ui,
    spec: Spec<'_>,
    now: &str,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Option<T> {
    let id = ui.make_persistent_id(("field", spec.name));
    let mut draft = ui
        .data(|data| data.get_temp::<Draft>(id))
        .unwrap_or_else(|| Draft { text: now.to_owned(), ..Draft::default() });
    let theme = Theme::of(ui);
    let mut edit = TextEdit::singleline(&mut draft.text)
        .id(id)
        .desired_width(spec.width)
        .min_size(egui::vec2(spec.width, 0.0))
        .hint_text(spec.hint);
    if draft.refused.is_some() {
        edit = edit.text_color(theme.color(Role::Fail));
    }
    let response = ui.add(edit).accessible_name(spec.name);
    // Whoever types knows what the field is; the words would only lie over the next one.
    let explains = draft.refused.is_none() && !response.has_focus();
    let response = if explains { explained(response, spec.name) } else { response };
    take_focus(&response);
    if is_wished(ui, spec.name) {
        response.request_focus();
        response.scroll_to_me(Some(egui::Align::Center));
        select_all(ui, id);
    }
    if response.gained_focus() && !ui.input(|input| input.pointer.any_down()) {
        select_all(ui, id);
    }
    if let Some(reason) = &draft.refused {
        response.clone().on_hover_text(reason);
        response.show_tooltip_text(reason);
    }
    if response.changed() {
        ui.data_mut(|data| data.insert_temp(entered_id(), None::<Id>));
        draft.refused = None;
        draft.changed_at = ui.input(|input| input.time);
        ui.data_mut(|data| data.insert_temp(id, draft.clone()));
    }
    let is_told = response.has_focus() && is_told_to_enter(ui.ctx());
    if !response.lost_focus() && !is_told {
        let typed = response.has_focus() && draft.text != now && has_paused(ui, draft.changed_at);
        return typed.then(|| read(draft.text.trim()).ok()).flatten().inspect(|_| tell_typing(ui));
    }
    let gave_up = ui.input(|input| input.key_pressed(egui::Key::Escape));
    if is_told {
        // The keyboard stays where it is in the words, which go on after what was asked for, such as a save.
        ui.data_mut(|data| data.insert_temp(entered_id(), Some(id)));
    } else if ui.input(|input| input.key_pressed(egui::Key::Enter)) {
        // The keyboard stays here, so that Tab goes on to the next field and not to the first of the window.
        // What it shows is selected again, so that more typing does not add to it.
        response.request_focus();
        select_all(ui, id);
        ui.data_mut(|data| data.insert_temp(entered_id(), Some(id)));
    }
    if gave_up || draft.text == now {
        ui.data_mut(|data| data.remove_temp::<Draft>(id));
        return None;
    }
    match read(draft.text.trim()) {
        Ok(value) => {
            ui.data_mut(|data| data.remove_temp::<Draft>(id));
            Some(value)
        }
        Err(reason) => {
            draft.refused = Some(reason);
            ui.data_mut(|data| data.insert_temp(id, draft));
            None
        }
    }
}

/// Whether the keyboard rests in a field whose text was entered: a step back is then meant of the plan, not of letters.
pub(super) fn rests_entered(ctx: &egui::Context) -> bool {
    let entered = ctx.data(|data| data.get_temp::<Option<Id>>(entered_id())).flatten();
    entered.is_some() && ctx.memory(|memory| memory.focused()) == entered
}

/// Tells the field that is being typed into to enter what it has, before something else is done with the plan.
pub(super) fn enter_what_is_typed(ctx: &egui::Context) {
    ctx.data_mut(|data| data.insert_temp(told_id(), ()));
}

/// Whether fields are told to enter what they have, in this frame.
pub(super) fn is_told_to_enter(ctx: &egui::Context) -> bool {
    ctx.data(|data| data.get_temp::<()>(told_id())).is_some()
}

/// Ends the telling, once all fields are drawn.
pub(super) fn end_entering(ctx: &egui::Context) {
    ctx.data_mut(|data| data.remove_temp::<()>(told_id()));
}

fn told_id() -> Id {
    Id::unique("fields are told to enter")
}

/// Where it is kept which field was entered last and not typed into since.
fn entered_id() -> Id {
    Id::unique("field entered last")
}

/// Whether what a form gives was entered, or is only typed so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Entry {
    /// It was entered.
    #[default]
    Done,
    /// Some of it is being typed: it may be shown, but is not meant yet.
    Typing,
}

/// Typing that rests so long is shown, in seconds.
const PAUSE_S: f64 = 0.3;

fn live_form() -> Id {
    Id::unique("the form whose typing is shown")
}

/// Draws a form whose fields also give what is typed and not entered yet, once the typing pauses.
pub(super) fn live(ui: &mut Ui, form: impl FnOnce(&mut Ui)) -> Entry {
    ui.data_mut(|data| data.insert_temp(live_form(), Entry::Done));
    form(ui);
    ui.data_mut(|data| data.remove_temp::<Entry>(live_form())).unwrap_or(Entry::Done)
}

fn tell_typing(ui: &Ui) {
    ui.data_mut(|data| data.insert_temp(live_form(), Entry::Typing));
}

/// Whether typing in a live form has paused; outside of one nobody asks.
fn has_paused(ui: &Ui, changed_at: f64) -> bool {
    if ui.data(|data| data.get_temp::<Entry>(live_form())).is_none() {
        return false;
    }
    let left = changed_at + PAUSE_S - ui.input(|input| input.time);
    if left > 0.0 {
        ui.ctx().request_repaint_after_secs(left as f32);
    }
    left <= 0.0
}

/// More than any field holds; a selection ends with its text.
const MOST_LETTERS: usize = 100_000;

/// A field that the keyboard comes to has its text selected, so that typing takes its place.
fn select_all(ui: &Ui, id: Id) {
    let Some(mut state) = TextEdit::load_state(ui.ctx(), id) else { return };
    let whole = CCursorRange::two(CCursor::new(0), CCursor::new(MOST_LETTERS));
    state.cursor.set_char_range(Some(whole));
    state.store(ui.ctx(), id);
}

fn wished_field() -> Id {
    Id::unique("the field that is to be shown and typed into")
}

/// Lets the field of this name have the keyboard and come into view, once it is drawn.
pub(super) fn go_to_field(ctx: &egui::Context, name: &str) {
    let wish = (name.to_owned(), ctx.cumulative_pass_nr());
    ctx.data_mut(|data| data.insert_temp(wished_field(), wish));
    ctx.request_repaint();
}

/// For so many passes a wished field is waited for.
const WISH_PASSES: u64 = 8;

/// Gives the keyboard to a field that is drawn elsewhere than here, where it was wished for by `name`, and brings it
/// into view.
pub(super) fn take_wish(ui: &Ui, response: &egui::Response, name: &str) {
    if is_wished(ui, name) {
        response.request_focus();
        response.scroll_to_me(None);
    }
}

/// Whether the field of this name was wished for; it is granted once.
fn is_wished(ui: &Ui, name: &str) -> bool {
    let Some((wished, at)) = ui.data(|data| data.get_temp::<(String, u64)>(wished_field())) else {
        return false;
    };
    // A wish that no form could grant at once is let go.
    let is_over = at + WISH_PASSES < ui.ctx().cumulative_pass_nr();
    let is_meant = wished == name && !is_over;
    if is_meant || is_over {
        ui.data_mut(|data| data.remove_temp::<(String, u64)>(wished_field()));
    }
    is_meant
}

fn wanted_focus() -> Id {
    Id::unique("the next field takes the focus")
}

/// Lets the next field, or what else calls [`take_focus`], have the keyboard.
pub(super) fn give_focus_to_next(ui: &Ui) {
    ui.data_mut(|data| data.insert_temp(wanted_focus(), ()));
}

/// Takes the keyboard where it was offered by [`give_focus_to_next`] and nothing before took it.
pub(super) fn take_focus(response: &egui::Response) {
    let wanted = response.ctx.data_mut(|data| data.remove_temp::<()>(wanted_focus()));
    if wanted.is_some() && response.enabled() {
        response.request_focus();
    }
}

/// A field for words; gives them trimmed.
pub(super) fn words_ui(ui: &mut Ui, spec: Spec<'_>, now: &str) -> Option<String> {
    typed_ui(ui, spec, now, |text| Ok(text.to_owned()))
}

/// A field for words that must not be empty.
pub(super) fn name_free_ui(ui: &mut Ui, spec: Spec<'_>, now: &str) -> Option<String> {
    typed_ui(ui, spec, now, |text| {
        if text.is_empty() {
            Err("a name is empty; give it at least one letter".to_owned())
        } else {
            Ok(text.to_owned())
        }
    })
}

/// A field for a name or mark.
pub(super) fn name_ui<N: std::str::FromStr<Err = crate::model::NameError>>(
    ui: &mut Ui,
    spec: Spec<'_>,
    now: &str,
) -> Option<N> {
    typed_ui(ui, spec, now, |text| text.parse().map_err(|error: crate::model::NameError| error.to_string()))
}

/// A field for a length that must be there.
pub(super) fn length_ui(ui: &mut Ui, spec: Spec<'_>, now: Length, style: Style) -> Option<Length> {
    let given = typed_ui(ui, spec, &length_text(now, style), |text| read_length(text, style));
    ui.label(unit_sign(QuantityKind::Length, style));
    given
}

/// A field for a length that may be missing; an emptied field gives `Some(None)`.
pub(super) fn some_length_ui(
    ui: &mut Ui,
    spec: Spec<'_>,
    now: Option<Length>,
    style: Style,
) -> Option<Option<Length>> {
    let text = now.map(|length| length_text(length, style)).unwrap_or_default();
    let spec = spec.hint("not entered");
    let given = typed_ui(ui, spec, &text, |text| {
        if text.is_empty() { Ok(None) } else { read_length(text, style).map(Some) }
    });
    ui.label(unit_sign(QuantityKind::Length, style));
    given
}

/// A field for a quantity that must be there, in the SI unit of its kind.
pub(super) fn quantity_ui(ui: &mut Ui, spec: Spec<'_>, now: Quantity, style: Style) -> Option<f64> {
    let given = typed_ui(ui, spec, &quantity_text(now, style), |text| read_quantity(text, now.kind, style));
    ui.label(unit_sign(now.kind, style));
    given
}

/// A field for a quantity that may be missing; an emptied field gives `Some(None)`.
pub(super) fn some_quantity_ui(
    ui: &mut Ui,
    spec: Spec<'_>,
    now: (Option<f64>, QuantityKind),
    style: Style,
) -> Option<Option<f64>> {
    let spec = if spec.hint.is_empty() { spec.hint("not entered") } else { spec };
    let given = bare_quantity_ui(ui, spec, now, style);
    ui.label(unit_sign(now.1, style));
    given
}

/// The same without its unit beside it, where that stands over many fields at once.
pub(super) fn bare_quantity_ui(
    ui: &mut Ui,
    spec: Spec<'_>,
    now: (Option<f64>, QuantityKind),
    style: Style,
) -> Option<Option<f64>> {
    let (value, kind) = now;
    let text = value.map(|value| quantity_text(Quantity { value, kind }, style)).unwrap_or_default();
    typed_ui(ui, spec, &text, |text| {
        if text.is_empty() { Ok(None) } else { read_quantity(text, kind, style).map(Some) }
    })
}

/// Draws a field by `draw`, from which Enter goes on to the next field, unless what was typed cannot be read.
pub(super) fn next_by_enter<T>(
    ui: &mut Ui,
    spec: Spec<'_>,
    draw: impl FnOnce(&mut Ui, Spec<'_>) -> Option<T>,
) -> Option<T> {
    let id = ui.make_persistent_id(("field", spec.name));
    let entered =
        ui.memory(|memory| memory.has_focus(id)) && ui.input(|input| input.key_pressed(egui::Key::Enter));
    let given = draw(ui, spec);
    let refused = ui.data(|data| data.get_temp::<Draft>(id)).is_some_and(|draft| draft.refused.is_some());
    if entered && !refused {
        give_focus_to_next(ui);
    }
    given
}

/// A field for a number that the plan keeps in one unit, shown in the reader's, which stands beside it.
pub(super) fn number_ui(ui: &mut Ui, spec: Spec<'_>, now: (f64, &str), style: Style) -> Option<f64> {
    let given =
        typed_ui(ui, spec, &entered::shown(now.0, now.1, style), |text| entered::read(text, now.1, style));
    ui.label(entered::reader_unit(now.1, style).1);
    given
}

/// A field for a number that the plan keeps in one unit and that may be missing; an emptied field gives `Some(None)`.
pub(super) fn some_number_ui(
    ui: &mut Ui,
    spec: Spec<'_>,
    now: (Option<f64>, &str),
    style: Style,
) -> Option<Option<f64>> {
    let text = now.0.map(|value| entered::shown(value, now.1, style)).unwrap_or_default();
    let given = typed_ui(ui, spec.hint("not entered"), &text, |text| {
        if text.is_empty() { Ok(None) } else { entered::read(text, now.1, style).map(Some) }
    });
    ui.label(entered::reader_unit(now.1, style).1);
    given
}

/// A choice of one of `choices`; gives the new one when it changes.
pub(super) fn choice_ui<T: PartialEq + Copy>(
    ui: &mut Ui,
    spec: Spec<'_>,
    now: T,
    choices: &[(T, &str)],
) -> Option<T> {
    let words: Vec<&str> = choices.iter().map(|(_, word)| *word).collect();
    let at = choices.iter().position(|(value, _)| *value == now);
    combo_ui(ui, spec.hint(""), at, &words).and_then(|at| choices.get(at)).map(|(value, _)| *value)
}

/// A choice among named rows by index; gives the new index when it changes.
pub(super) fn pick_ui(ui: &mut Ui, spec: Spec<'_>, now: Option<usize>, names: &[String]) -> Option<usize> {
    let words: Vec<&str> = names.iter().map(String::as_str).collect();
    combo_ui(ui, spec, now, &words)
}

/// A list that opens at what is chosen now, with the keyboard on it, and closes once something is chosen.
fn combo_ui(ui: &mut Ui, spec: Spec<'_>, now: Option<usize>, words: &[&str]) -> Option<usize> {
    let word = now.and_then(|at| words.get(at)).copied().unwrap_or(spec.hint);
    let mut chosen = None;
    let spacing = ui.spacing();
    // The list is as wide as its words where there is room for that.
    let room = ui.available_width().max(spec.width)
        - (2.0 * spacing.button_padding.x + spacing.icon_width + spacing.item_spacing.x);
    let font = egui::TextStyle::Button.resolve(ui.style());
    let width = |words: &str| {
        ui.painter().layout_no_wrap(words.to_owned(), font.clone(), egui::Color32::WHITE).size().x
    };
    let short = shortened(word, |words| width(words) <= room);
    let is_short = short != word;
    let combo = egui::ComboBox::from_id_salt(spec.name)
        .selected_text(short)
        .width(spec.width)
        .truncate()
        .show_ui(ui, |ui| {
            let just_opened = just_opened(ui);
            for (at, word) in words.iter().enumerate() {
                let row = ui.selectable_label(now == Some(at), *word);
                if just_opened && now == Some(at) {
                    row.scroll_to_me(Some(egui::Align::Center));
                    row.request_focus();
                }
                if row.clicked() {
                    chosen = Some(at);
                    ui.close();
                }
            }
        });
    let mut response = explained(combo.response.accessible_name(spec.name), spec.name);
    if is_short {
        response = response.on_hover_text(word);
    }
    if chosen.is_some() {
        response.request_focus();
    }
    chosen.filter(|at| now != Some(*at))
}

/// Words that fit: long ones lose their middle, since names of types differ at their ends.
fn shortened(words: &str, fits: impl Fn(&str) -> bool) -> String {
    if fits(words) {
        return words.to_owned();
    }
    let letters: Vec<char> = words.chars().collect();
    // A little more of the beginning than of the end.
    let left_of = |kept: usize| kept.div_ceil(2);
    let with = |kept: usize| -> String {
        let (front, back) = (&letters[..left_of(kept)], &letters[letters.len() - (kept - left_of(kept))..]);
        front.iter().chain(&['…']).chain(back).collect()
    };
    let most = letters.len().saturating_sub(1);
    (2..most).rev().map(with).find(|short| fits(short)).unwrap_or_else(|| words.to_owned())
}

/// Whether a list is drawn for the first time since it was closed; the pass that only measures it counts too.
fn just_opened(ui: &Ui) -> bool {
    let (id, pass) = (ui.scope_id().with("open"), ui.ctx().cumulative_pass_nr());
    let (opened, last) = ui.data(|data| data.get_temp::<(u64, u64)>(id)).unwrap_or_default();
    let opened = if last + 1 < pass { pass } else { opened };
    ui.data_mut(|data| data.insert_temp(id, (opened, pass)));
    pass <= opened + 1
}

/// A heading within a form.
pub(super) fn heading_ui(ui: &mut Ui, words: &str) {
    ui.add_space(4.0);
    ui.label(RichText::new(words).strong());
}

/// Two columns, a label and a field; rows end with [`Ui::end_row`].
pub(super) fn form_grid(salt: impl std::hash::Hash + std::fmt::Debug) -> egui::Grid {
    egui::Grid::new(Id::unique(("form", format!("{salt:?}")))).num_columns(2).spacing([10.0, 4.0])
}

/// The text of a length in the reader's units: the shortest that gives the same millimetre back.
pub(super) fn length_text(length: Length, style: Style) -> String {
    let value = Quantity::length(length).shown_value(style);
    let texts =
        (0..6).map(|decimals| plain_text(format!("{value:.decimals$}").parse().unwrap_or(value), style));
    let mut exact = texts.filter(|text| read_length(text, style) == Ok(length));
    exact.next().unwrap_or_else(|| plain_text(value, style))
}

fn quantity_text(quantity: Quantity, style: Style) -> String {
    plain_text(quantity.shown_value(style), style)
}

/// A number without needless zeros.
pub(super) fn plain_text(value: f64, style: Style) -> String {
    let digits = format!("{value:.6}");
    style.decimal.written(digits.trim_end_matches('0').trim_end_matches('.'))
}

fn unit_sign(kind: QuantityKind, style: Style) -> &'static str {
    Quantity { value: 0.0, kind }.unit_sign(style)
}

fn read_length(text: &str, style: Style) -> Result<Length, String> {
    parse_length(text, style.units).map_err(|error| error.to_string())
}

fn read_number(text: &str) -> Result<f64, String> {
    parse_number(text).map_err(|error| error.to_string())
}

/// Reads a quantity in SI from a text in the reader's units; masses and lengths may name their unit.
pub(super) fn read_quantity(text: &str, kind: QuantityKind, style: Style) -> Result<f64, String> {
    let one = Quantity { value: 1.0, kind }.shown_value(style);
    match kind {
        QuantityKind::Mass => parse_mass_kg(text, style.units).map_err(|error| error.to_string()),
        QuantityKind::SmallMass if text.chars().any(char::is_alphabetic) => {
            parse_mass_kg(text, style.units).map_err(|error| error.to_string())
        }
        QuantityKind::Length => read_length(text, style).map(Length::m),
        QuantityKind::SmallLength => {
            // A bare number is mm or in here, not m or ft.
            if text.chars().any(char::is_alphabetic) {
                return read_length(text, style).map(Length::m);
            }
            read_number(text).map(|value| value / one)
        }
        _ => read_number(text.trim_end_matches(" : 1").trim_end_matches('%').trim()).map(|value| value / one),
    }
}

/// The unit systems with their words.
pub(super) const UNIT_SYSTEMS: [(UnitSystem, &str); 2] = [
    (UnitSystem::Metric, "Metric (t, kN, m, mm)"),
    (UnitSystem::UsCustomary, "US customary (short tons, ft)"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::DecimalMark;

    const US: Style = Style { units: UnitSystem::UsCustomary, decimal: DecimalMark::Point };
    const COMMA: Style = Style { units: UnitSystem::Metric, decimal: DecimalMark::Comma };

    fn check(text: &str, kind: QuantityKind, style: Style, si: f64) {
        let read = read_quantity(text, kind, style).unwrap();
        assert!((read - si).abs() <= 1.0e-9 * si.abs(), "{text}: {read}, not {si}");
    }

    // Conversion factors: NIST Special Publication 811, appendix B.8.
    #[test]
    fn long_words_lose_their_middle_and_keep_the_ends_that_tell_them_apart() {
        let most = |most: usize| move |words: &str| words.chars().count() <= most;
        assert_eq!(shortened("Flat, four axles, holding", most(14)), "Flat, f…olding");
        assert_eq!(shortened("Flat", most(14)), "Flat");
        // Nothing fits: the list itself cuts it.
        assert_eq!(shortened("Flat, four axles", most(1)), "Flat, four axles");
    }

    #[test]
    fn quantities_are_read_in_the_readers_units_or_in_the_one_typed() {
        let metric = Style::default();
        check("22,5", QuantityKind::Mass, metric, 22_500.0);
        check("22500 kg", QuantityKind::Mass, metric, 22_500.0);
        check("1", QuantityKind::Mass, US, 907.184_74);
        check("9240", QuantityKind::SmallMass, metric, 9_240.0);
        check("9,24 t", QuantityKind::SmallMass, metric, 9_240.0);
        check("1000", QuantityKind::SmallMass, US, 453.592_37);
        check("12 ft 6 in", QuantityKind::Length, COMMA, 3.81);
        check("20", QuantityKind::SmallLength, metric, 0.02);
        check("2 cm", QuantityKind::SmallLength, metric, 0.02);
        check("1,25 : 1", QuantityKind::Ratio, COMMA, 1.25);
        check("85 %", QuantityKind::Share, metric, 0.85);
        check("90", QuantityKind::Speed, metric, 25.0);
        assert!(read_quantity("37 tons", QuantityKind::Mass, US).is_err());
    }

    #[test]
    fn a_length_is_shown_as_it_was_typed() {
        // 41 ft are 12,496.8 mm, kept as 12,497.
        assert_eq!(length_text(Length::from_mm(12_497), US), "41");
        assert_eq!(length_text(Length::from_mm(12_500), COMMA), "12,5");
        assert_eq!(length_text(Length::from_mm(12_501), COMMA), "12,501");
    }

    #[test]
    fn a_shown_length_gives_its_millimetre_back_in_every_style() {
        for mm in [0, 1, -400, 108_000, 402_336, 499_999] {
            for style in [Style::default(), US, COMMA] {
                let length = Length::from_mm(mm);
                assert_eq!(read_length(&length_text(length, style), style), Ok(length), "{mm}");
            }
        }
    }
}
