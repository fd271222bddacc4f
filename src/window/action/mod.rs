//! Everything a menu, a key or a button can do, in one list.
//!
//! In: nothing. Out: for each action its text, its one-sentence tooltip, its key, and whether it
//! can be done at present. Menus, keys and buttons are made from it.
//!
//! Not here: the doing (`perform`).
//!
//! Tested by: `tests/window/actions.rs`.

pub mod class;

use std::path::PathBuf;

use eframe::egui::{Key, KeyboardShortcut, Modifiers};

use crate::document::ThemeChoice;
use crate::material::{Material, Side};
use crate::outcome::Change;
use crate::quantity::{Measure, UnitSystem};

pub use crate::window::action::class::ClassAction;

use crate::window::piles::choices::View;
use crate::window::piles::drawer_choices::FormKind;

/// Name of a theme on screen.
fn theme_name(choice: ThemeChoice) -> &'static str {
    match choice {
        ThemeChoice::System => "As the desktop",
        ThemeChoice::Light => "Light",
        ThemeChoice::Dark => "Dark",
    }
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// Start an empty recipe.
    New,
    /// Open by the system's dialog.
    Open,
    /// Open by typing a path.
    OpenByPath,
    /// Open a file.
    OpenFile(PathBuf),
    /// Save where it came from.
    Save,
    /// Save by the system's dialog.
    SaveAs,
    /// Save by typing a path.
    SaveByPath,
    /// Keep it among the recipes of the seasons.
    Keep,
    /// Close the window.
    Quit,
    /// Take back the newest change.
    Undo,
    /// Do it again.
    Redo,
    /// Keep the present mix as a ghost.
    Pin,
    /// Let the ghost go.
    Unpin,
    /// Choose a material to add.
    PickMaterial,
    /// Choose a material to add later on, by the plan: in a new entry or the one of this place.
    PickForPlan(Option<usize>),
    /// Look for a plan and show it.
    ProposePlan,
    /// Put the proposed plan in the place of the present one.
    UsePlan,
    /// Leave the plan as it is, and look no further.
    LeavePlan,
    /// Open the materials drawer.
    OpenDrawer,
    /// Open the materials drawer on a material, by id.
    ShowMaterial(String),
    /// Close the materials drawer.
    CloseDrawer,
    /// Open a form for an own material, from the one shown.
    StartForm(FormKind),
    /// Leave the form.
    CloseForm,
    /// Take an own material into the recipe.
    TakeMaterial(Box<Material>),
    /// Keep an own material for every recipe, by id.
    KeepMaterial(String),
    /// Take an own material out of the recipe, by id.
    DropMaterial(String),
    /// Open or fold the state of an ingredient, by its place.
    ToggleDetails(usize),
    /// Bring an ingredient's state back to the catalogue's.
    AsListed(usize),
    /// Add a material by its id.
    AddMaterial(String),
    /// Let the plan add a material by its id, in a new entry or the one of this place.
    AddToPlan(Option<usize>, String),
    /// Take an ingredient out, by its place.
    Remove(usize),
    /// Say an ingredient's amount in another measure.
    SetMeasure(usize, Measure),
    /// Do what the advice proposes.
    Follow(Change),
    /// Look for the smallest change that brings every gauge into its band.
    Balance,
    /// Fill the room with more of what is there.
    FillBin,
    /// Look at a way out of the balance, by its place.
    TryWay(usize),
    /// Change the mix as the balance shows.
    TakeBalance,
    /// Leave the mix as it is.
    LeaveBalance,
    /// Add a bucket of the chosen green or brown.
    AddBucket(Side),
    /// Choose which green or brown a bucket is of.
    ChooseBucket(Side, String),
    /// Do something with a class.
    Class(ClassAction),
    /// Draw needles and curves at rest, or moving.
    ToggleMotion,
    /// Go to a view.
    Show(View),
    /// Choose units.
    SetUnits(UnitSystem),
    /// Choose light or dark.
    SetTheme(ThemeChoice),
    /// Open or fold the notes.
    ToggleNotes,
    /// Show what was told.
    ToggleNotices,
    /// Answer the question that is open.
    Reply(Reply),
    /// Open or save at the path typed into the path field.
    UsePath(PathBuf),
    /// Close the path field.
    ClosePathField,
    /// Stop waiting for the system's dialog and type the path.
    TypePathInstead,
}

/// An answer to a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reply {
    /// The helpful way on: save, overwrite, restore.
    Yes,
    /// The other way on: discard, save elsewhere, throw away.
    No,
    /// Leave everything as it is.
    Cancel,
}

/// What is so at present, for deciding what can be done.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// What undo would take back.
    pub undo: Option<String>,
    /// What redo would bring back.
    pub redo: Option<String>,
    /// Whether a mix is pinned.
    pub pinned: bool,
    /// Whether there is anything to pin.
    pub blended: bool,
    /// Whether the heap has a brim to fill it to.
    pub has_room: bool,
    /// Whether a proposed plan that answers the newest wish is shown.
    pub plan_found: bool,
    /// Whether a system dialog is open.
    pub dialog_open: bool,
    /// Name of the chosen green and brown.
    pub buckets: (String, String),
}

impl Action {
    /// Its words in a menu or on a button; `…` where a dialog follows.
    pub fn text(&self, facts: &Facts) -> String {
        let with = |verb: &str, what: &Option<String>| match what {
            Some(what) => format!("{verb}: {what}"),
            None => verb.to_owned(),
        };
        match self {
            Self::New => "New recipe".to_owned(),
            Self::Open => "Open…".to_owned(),
            Self::OpenByPath => "Open by path…".to_owned(),
            Self::OpenFile(path) => path.display().to_string(),
            Self::Save => "Save".to_owned(),
            Self::SaveAs => "Save as…".to_owned(),
            Self::SaveByPath => "Save by path…".to_owned(),
            Self::Keep => "Keep in Seasons".to_owned(),
            Self::Quit => "Quit".to_owned(),
            Self::Undo => with("Undo", &facts.undo),
            Self::Redo => with("Redo", &facts.redo),
            Self::Pin => "Pin this mix".to_owned(),
            Self::Unpin => "Unpin".to_owned(),
            Self::PickMaterial => "Add material…".to_owned(),
            Self::PickForPlan(None) => "+ Add material…".to_owned(),
            Self::PickForPlan(Some(_)) => "+ another…".to_owned(),
            Self::AddMaterial(id) | Self::AddToPlan(_, id) => id.clone(),
            Self::Remove(_) => "Remove".to_owned(),
            Self::SetMeasure(_, measure) => measure.plural(),
            Self::Follow(_) => "Do this".to_owned(),
            Self::Balance => "Balance the mix".to_owned(),
            Self::FillBin => "Fill the bin".to_owned(),
            Self::TryWay(_) => "Show".to_owned(),
            Self::TakeBalance => "Use this mix".to_owned(),
            Self::LeaveBalance => "Leave it".to_owned(),
            Self::AddBucket(Side::Green) => format!("+1 bucket {}", facts.buckets.0),
            Self::AddBucket(_) => format!("+1 bucket {}", facts.buckets.1),
            Self::ChooseBucket(_, id) => id.clone(),
            Self::Class(action) => action.text(&facts.buckets),
            Self::ToggleMotion => "Less motion".to_owned(),
            Self::Show(View::Class) => "Class".to_owned(),
            Self::Show(View::Mix) => "Mix".to_owned(),
            Self::Show(View::Heap) => "Heap".to_owned(),
            Self::Show(View::Seasons) => "Seasons".to_owned(),
            Self::Show(View::Results) => "Results".to_owned(),
            Self::SetUnits(UnitSystem::Metric) => "Metric".to_owned(),
            Self::SetUnits(UnitSystem::UsCustomary) => "US".to_owned(),
            Self::SetTheme(choice) => theme_name(*choice).to_owned(),
            Self::ProposePlan => "Propose a plan…".to_owned(),
            Self::UsePlan => "Use this plan".to_owned(),
            Self::LeavePlan => "Leave it".to_owned(),
            Self::OpenDrawer => "Materials…".to_owned(),
            Self::ShowMaterial(_) => "About this material…".to_owned(),
            Self::CloseDrawer => "Close the drawer".to_owned(),
            Self::StartForm(kind) => format!("{}…", kind.heading()),
            Self::CloseForm => "Cancel the form".to_owned(),
            Self::TakeMaterial(_) => "Add to my materials".to_owned(),
            Self::KeepMaterial(_) => "Keep for every recipe".to_owned(),
            Self::DropMaterial(_) => "Take out of this recipe".to_owned(),
            Self::ToggleDetails(_) => "State".to_owned(),
            Self::AsListed(_) => "As in the catalogue".to_owned(),
            Self::ToggleNotes => "Notes".to_owned(),
            Self::ToggleNotices => "Notices".to_owned(),
            Self::Reply(Reply::Yes) => "Yes".to_owned(),
            Self::Reply(Reply::No) => "No".to_owned(),
            Self::Reply(Reply::Cancel) | Self::ClosePathField => "Cancel".to_owned(),
            Self::UsePath(path) => path.display().to_string(),
            Self::TypePathInstead => "Type the path instead".to_owned(),
        }
    }

    /// What it does, in one sentence.
    pub fn tooltip(&self) -> &'static str {
        match self {
            Self::New => "Starts an empty recipe.",
            Self::Open => "Opens a recipe from a file.",
            Self::OpenByPath => "Opens a recipe whose path you type or paste.",
            Self::OpenFile(_) => "Opens this recipe.",
            Self::Save => "Saves the recipe to its file.",
            Self::SaveAs => "Saves the recipe to another file.",
            Self::SaveByPath => "Saves the recipe to a path you type or paste.",
            Self::Keep => "Keeps a copy of this recipe among your own, filed by its season.",
            Self::Quit => "Closes the window; unsaved changes are asked about first.",
            Self::Undo => "Takes back the newest change.",
            Self::Redo => "Does again what was taken back.",
            Self::Pin => {
                "Keeps the present mix as a faint ghost behind gauges and plot, to compare against."
            }
            Self::Unpin => "Lets the pinned ghost go.",
            Self::PickMaterial => "Searches the catalogue for a material to add.",
            Self::PickForPlan(None) => {
                "Adds more material on a later day: searches the catalogue for it."
            }
            Self::PickForPlan(Some(_)) => "Adds a further material on the same day.",
            Self::ProposePlan => {
                "Looks for the days to turn and water that serve best what you want; nothing changes until you use it."
            }
            Self::UsePlan => {
                "Replaces turnings and waterings of the plan by these; one undo takes it back."
            }
            Self::LeavePlan => "Leaves the plan as it is and stops looking (Esc).",
            Self::OpenDrawer => "Opens the drawer of all materials, with values and sources.",
            Self::ShowMaterial(_) => "Shows this material's values, sources and questions.",
            Self::CloseDrawer => "Closes the drawer (Esc).",
            Self::StartForm(FormKind::Copy) => {
                "Makes a material of your own from this one, every value to be changed."
            }
            Self::StartForm(FormKind::Report) => {
                "Makes a material of your own from a laboratory's figures."
            }
            Self::StartForm(FormKind::Bucket) => {
                "Makes a material of your own with a bucket, a scale and an oven."
            }
            Self::CloseForm => "Leaves the form; nothing is added (Esc).",
            Self::TakeMaterial(_) => "Adds it to the materials of this recipe.",
            Self::KeepMaterial(_) => "Keeps it in your library, for other recipes too.",
            Self::DropMaterial(_) => "Takes it out of this recipe; undo brings it back.",
            Self::ToggleDetails(_) => "Shows or folds how wilted, packed or chopped it is.",
            Self::AsListed(_) => "Sets wilting, packing and chopping back.",
            Self::AddMaterial(_) => "Adds this material to the mix.",
            Self::AddToPlan(..) => "Lets the plan add a bucket of this material.",
            Self::Remove(_) => "Takes this ingredient out of the mix.",
            Self::SetMeasure(..) => "Says the amount in another measure; the stuff stays the same.",
            Self::Follow(_) => "Changes the mix as this sentence proposes; undo takes it back.",
            Self::Balance => {
                "Finds the smallest change that brings every gauge into its band; nothing changes until you use it."
            }
            Self::FillBin => {
                "Fills the heap's room with more of what is there; nothing changes until you use it."
            }
            Self::TryWay(_) => "Shows what this way out would do.",
            Self::TakeBalance => "Changes the mix as shown; one undo takes it back.",
            Self::LeaveBalance => "Leaves the mix as it is (Esc).",
            Self::AddBucket(_) => "Adds one garden bucket (12 L) of it to the mix.",
            Self::ChooseBucket(..) => "Chooses what the button adds a bucket of.",
            Self::Class(action) => action.tooltip(),
            Self::ToggleMotion => "Needles jump to their place instead of moving there.",
            Self::Show(View::Class) => {
                "Large type and few controls for a class; trials and lessons."
            }
            Self::Show(View::Mix) => "Shows ingredients, gauges and the heat plot.",
            Self::Show(View::Heap) => "Shows place, plan and the inside of the heap.",
            Self::Show(View::Seasons) => "Shows the recipes you have kept, by time of year.",
            Self::Show(View::Results) => {
                "Shows what comes of the heap, where it goes and cautions."
            }
            Self::SetUnits(UnitSystem::Metric) => "Shows litres, kilograms and degrees Celsius.",
            Self::SetUnits(UnitSystem::UsCustomary) => {
                "Shows gallons, pounds and degrees Fahrenheit."
            }
            Self::SetTheme(ThemeChoice::System) => "Follows the desktop's light or dark setting.",
            Self::SetTheme(ThemeChoice::Light) => "Uses light colours.",
            Self::SetTheme(ThemeChoice::Dark) => "Uses dark colours.",
            Self::ToggleNotes => "Shows or folds the notes kept with this recipe.",
            Self::ToggleNotices => "Shows or hides all notifications.",
            Self::Reply(Reply::Yes) => "Goes on in the way that keeps most.",
            Self::Reply(Reply::No) => "Goes on in the other way.",
            Self::Reply(Reply::Cancel) => "Leaves everything as it is (Esc).",
            Self::UsePath(_) => "Goes on with the path typed here (Enter).",
            Self::ClosePathField => "Closes this field without doing anything (Esc).",
            Self::TypePathInstead => {
                "Stops waiting for the desktop's file dialog and shows a field for the path."
            }
        }
    }

    /// Its key.
    pub fn shortcut(&self) -> Option<KeyboardShortcut> {
        let control = |key| Some(KeyboardShortcut::new(Modifiers::COMMAND, key));
        let shifted = |key| {
            Some(KeyboardShortcut::new(
                Modifiers::COMMAND.plus(Modifiers::SHIFT),
                key,
            ))
        };
        match self {
            Self::New => control(Key::N),
            Self::Open => control(Key::O),
            Self::OpenByPath => shifted(Key::O),
            Self::Save => control(Key::S),
            Self::SaveAs => shifted(Key::S),
            Self::SaveByPath => shifted(Key::E),
            Self::Keep => control(Key::K),
            Self::Quit => control(Key::Q),
            Self::Undo => control(Key::Z),
            Self::Redo => shifted(Key::Z),
            Self::Pin => control(Key::P),
            Self::Unpin => shifted(Key::P),
            Self::PickMaterial => control(Key::M),
            Self::Balance => control(Key::E),
            Self::ProposePlan => control(Key::R),
            Self::OpenDrawer => control(Key::L),
            Self::AddBucket(Side::Green) => control(Key::G),
            Self::AddBucket(_) => control(Key::B),
            Self::Show(View::Class) => control(Key::Num5),
            Self::Show(View::Mix) => control(Key::Num1),
            Self::Show(View::Heap) => control(Key::Num2),
            Self::Show(View::Seasons) => control(Key::Num3),
            Self::Show(View::Results) => control(Key::Num4),
            Self::SetUnits(UnitSystem::Metric) => shifted(Key::M),
            Self::SetUnits(UnitSystem::UsCustomary) => shifted(Key::U),
            Self::SetTheme(ThemeChoice::Light) => shifted(Key::L),
            Self::SetTheme(ThemeChoice::Dark) => shifted(Key::D),
            Self::ToggleNotes => control(Key::T),
            Self::ToggleNotices => shifted(Key::N),
            Self::OpenFile(_)
            | Self::Class(_)
            | Self::ToggleMotion
            | Self::PickForPlan(_)
            | Self::UsePlan
            | Self::LeavePlan
            | Self::ShowMaterial(_)
            | Self::CloseDrawer
            | Self::StartForm(_)
            | Self::CloseForm
            | Self::TakeMaterial(_)
            | Self::KeepMaterial(_)
            | Self::DropMaterial(_)
            | Self::ToggleDetails(_)
            | Self::AsListed(_)
            | Self::AddMaterial(_)
            | Self::AddToPlan(..)
            | Self::Remove(_)
            | Self::SetMeasure(..)
            | Self::Follow(_)
            | Self::FillBin
            | Self::TryWay(_)
            | Self::TakeBalance
            | Self::LeaveBalance
            | Self::ChooseBucket(..)
            | Self::SetTheme(ThemeChoice::System)
            | Self::Reply(_)
            | Self::UsePath(_)
            | Self::ClosePathField
            | Self::TypePathInstead => None,
        }
    }

    /// Whether it can be done at present.
    pub fn enabled(&self, facts: &Facts) -> bool {
        match self {
            Self::Undo => facts.undo.is_some(),
            Self::Redo => facts.redo.is_some(),
            Self::Pin => facts.blended,
            Self::FillBin => facts.has_room,
            Self::Unpin => facts.pinned,
            Self::UsePlan => facts.plan_found,
            Self::Open | Self::SaveAs => !facts.dialog_open,
            Self::AddBucket(Side::Green) => !facts.buckets.0.is_empty(),
            Self::AddBucket(_) => !facts.buckets.1.is_empty(),
            _ => true,
        }
    }

    /// Whether a focused text field keeps the key for itself.
    pub fn yields_to_text(&self) -> bool {
        matches!(self, Self::Undo | Self::Redo)
    }

    /// Every action that has a key.
    pub fn with_keys() -> Vec<Self> {
        vec![
            // Keys with shift come first: without it the plain one would take them.
            Self::OpenByPath,
            Self::SaveAs,
            Self::SaveByPath,
            Self::Redo,
            Self::Unpin,
            Self::SetUnits(UnitSystem::Metric),
            Self::SetUnits(UnitSystem::UsCustomary),
            Self::SetTheme(ThemeChoice::Light),
            Self::SetTheme(ThemeChoice::Dark),
            Self::ToggleNotices,
            Self::New,
            Self::Open,
            Self::Save,
            Self::Keep,
            Self::Quit,
            Self::Undo,
            Self::Pin,
            Self::PickMaterial,
            Self::Balance,
            Self::ProposePlan,
            Self::OpenDrawer,
            Self::AddBucket(Side::Green),
            Self::AddBucket(Side::Brown),
            Self::Show(View::Mix),
            Self::Show(View::Heap),
            Self::Show(View::Seasons),
            Self::Show(View::Results),
            Self::Show(View::Class),
            Self::ToggleNotes,
        ]
    }
}
