//! Everything a menu, a key or a button can do, in one list.
//!
//! In: what is so at present. Out: for each action its text, its one-sentence tooltip, its key, and
//! whether it can be done. Menus, keys and buttons are made from it; keys are found by going through it.
//!
//! Not here: the doing (`verbs`), what a class can ask for (`class`).
//!
//! Tested by: `tests/window/actions.rs`.

use std::path::PathBuf;

use eframe::egui::Key;

use crate::document::ThemeChoice;
use crate::material::{Material, Side};
use crate::outcome::Change;
use crate::quantity::{Measure, UnitSystem};
use crate::text::{amount, logger};

use crate::window::action::class::ClassAction;
use crate::window::action::diary::DiaryAction;
use crate::window::action::entry::{Entry, Facts};
use crate::window::action::recipe::RecipeAction;
use crate::window::action::year::YearAction;
use crate::window::piles::choices::View;
use crate::window::piles::drawer_choices::FormKind;

/// Both unit systems, in the order of the menu.
pub const UNITS: [UnitSystem; 2] = [UnitSystem::Metric, UnitSystem::UsCustomary];
/// The themes, in the order of the menu.
pub const THEMES: [ThemeChoice; 4] = [
    ThemeChoice::System,
    ThemeChoice::Light,
    ThemeChoice::Dark,
    ThemeChoice::Contrast,
];

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
    /// Write the page to print: of the recipe, or of the year while that is looked at.
    Print,
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
    /// Bring what an entry of the plan adds into its bands with the brown that is chosen for it.
    BalancePortion(usize),
    /// Look for a plan and show it.
    ProposePlan,
    /// Put the proposed plan in the place of the present one.
    UsePlan,
    /// Leave the plan as it is, and look no further.
    LeavePlan,
    /// Ask what is wrong with the heap.
    AskWrong,
    /// Leave that sheet.
    LeaveWrong,
    /// Put a cure of it into the recipe, by its place.
    TakeCure(usize),
    /// Keep the heap without a recipe as one.
    KeepRough,
    /// Choose a logger's file to look at.
    ImportReadings,
    /// Look at this file of a logger.
    ImportFile(PathBuf),
    /// Take its readings into the diary.
    TakeReadings,
    /// Leave that sheet.
    LeaveImport,
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
    /// Say that something typed is no amount.
    TellUnread(String),
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
    /// Do something with the diary.
    Diary(DiaryAction),
    /// Do something with the year.
    Year(YearAction),
    /// Do something with kept recipes.
    Recipe(RecipeAction),
    /// Draw needles and curves at rest, or moving.
    ToggleMotion,
    /// Fill the whole screen, or no longer.
    ToggleFullScreen,
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
    /// Show every key.
    ShowKeys,
    /// Show version, licences and changes.
    ShowAbout,
    /// Leave the sheet of the Help menu.
    LeaveHelp,
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

impl Action {
    /// Those that need nothing more to be said, in the order of the list.
    pub fn listed() -> Vec<Self> {
        let mut all = vec![
            Self::New,
            Self::Open,
            Self::OpenByPath,
            Self::Save,
            Self::SaveAs,
            Self::SaveByPath,
            Self::Keep,
            Self::Print,
            Self::Quit,
            Self::Undo,
            Self::Redo,
            Self::Pin,
            Self::Unpin,
            Self::PickMaterial,
            Self::Balance,
            Self::FillBin,
            Self::TakeBalance,
            Self::LeaveBalance,
            Self::AddBucket(Side::Green),
            Self::AddBucket(Side::Brown),
            Self::ProposePlan,
            Self::UsePlan,
            Self::LeavePlan,
            Self::AskWrong,
            Self::LeaveWrong,
            Self::KeepRough,
            Self::ImportReadings,
            Self::TakeReadings,
            Self::LeaveImport,
            Self::OpenDrawer,
            Self::CloseDrawer,
            Self::CloseForm,
            Self::ToggleMotion,
            Self::ToggleFullScreen,
            Self::ToggleNotes,
            Self::ToggleNotices,
            Self::ShowKeys,
            Self::ShowAbout,
            Self::LeaveHelp,
            Self::ClosePathField,
            Self::TypePathInstead,
        ];
        all.extend(View::ALL.map(Self::Show));
        all.extend(UNITS.map(Self::SetUnits));
        all.extend(THEMES.map(Self::SetTheme));
        all.extend(ClassAction::LISTED.map(Self::Class));
        all.extend(YearAction::LISTED.map(Self::Year));
        all.extend(RecipeAction::LISTED.map(Self::Recipe));
        all
    }

    /// Every action that has a key, with its entry.
    ///
    /// Keys with shift come first: without it the plain one would take them.
    pub fn with_keys(facts: &Facts) -> Vec<(Self, Entry)> {
        let mut keyed: Vec<(Self, Entry)> = Self::listed()
            .into_iter()
            .map(|action| {
                let entry = action.entry(facts);
                (action, entry)
            })
            .filter(|(_, entry)| entry.shortcut.is_some())
            .collect();
        keyed.sort_by_key(|(_, entry)| entry.shortcut.is_none_or(|key| !key.modifiers.shift));
        keyed
    }

    /// Its words on a button or in a menu.
    pub fn text(&self, facts: &Facts) -> String {
        self.entry(facts).text
    }

    /// What it says of itself.
    #[expect(clippy::too_many_lines, reason = "a table: one arm for each action")]
    pub fn entry(&self, facts: &Facts) -> Entry {
        let with = |verb: &str, what: &Option<String>| match what {
            Some(what) => format!("{verb}: {what}"),
            None => verb.to_owned(),
        };
        match self {
            Self::New => Entry::new("New recipe", "Starts an empty recipe.").key(Key::N),
            Self::Open => Entry::new("Open…", "Opens a recipe from a file.")
                .key(Key::O)
                .only_if(!facts.dialog_open),
            Self::OpenByPath => Entry::new(
                "Open by path…",
                "Opens a recipe whose path you type or paste.",
            )
            .shift(Key::O),
            Self::OpenFile(path) => Entry::new(path.display().to_string(), "Opens this recipe."),
            Self::Save => {
                let what = facts.open_thing();
                Entry::new("Save", format!("Saves the {what} to its file.")).key(Key::S)
            }
            Self::SaveAs => {
                let what = facts.open_thing();
                Entry::new("Save as…", format!("Saves the {what} to another file."))
                    .shift(Key::S)
                    .only_if(!facts.dialog_open)
            }
            Self::SaveByPath => {
                let what = facts.open_thing();
                let tooltip = format!("Saves the {what} to a path you type or paste.");
                Entry::new("Save by path…", tooltip).shift(Key::E)
            }
            Self::Keep => Entry::new(
                "Keep in Seasons",
                "Keeps a copy of this recipe among your own, filed by its season.",
            )
            .key(Key::K),
            Self::Print => {
                let (text, tooltip) = if facts.on_year {
                    ("Print the year…", "Writes plan and line of the year on one page to print, as PDF.")
                } else {
                    (
                        "Print the handout…",
                        "Writes the recipe, the curve and an empty log on one page to print, as PDF.",
                    )
                };
                Entry::new(text, tooltip)
                    .key(Key::P)
                    .only_if(!facts.dialog_open)
            }
            Self::Quit => Entry::new(
                "Quit",
                "Closes the window; unsaved changes are asked about first.",
            )
            .key(Key::Q)
            .or_key(Key::W),
            Self::Undo => Entry::new(with("Undo", &facts.undo), "Undoes the latest change.")
                .key(Key::Z)
                .only_if(facts.undo.is_some())
                .after_text(),
            Self::Redo => Entry::new(with("Redo", &facts.redo), "Repeats what was undone.")
                .shift(Key::Z)
                .or_key(Key::Y)
                .only_if(facts.redo.is_some())
                .after_text(),
            Self::Pin => Entry::new(
                "Pin this mix",
                "Keeps the present mix as a faint ghost behind gauges and plot, to compare against.",
            )
            .key(Key::J)
            .only_if(facts.blended),
            Self::Unpin => Entry::new("Unpin", "Removes the pinned ghost.")
                .shift(Key::J)
                .only_if(facts.pinned),
            Self::PickMaterial => Entry::new(
                "Add material…",
                "Searches the catalogue for a material to add.",
            )
            .key(Key::M),
            Self::PickForPlan(None) => Entry::new(
                "+ Add material…",
                "Adds more material on a later day: searches the catalogue for it.",
            ),
            Self::PickForPlan(Some(_)) => {
                Entry::new("+ another…", "Adds a further material on the same day.")
            }
            Self::BalancePortion(_) => Entry::new(
                "Balance",
                "Adds the least of this brown that brings each portion into its bands.",
            ),
            Self::ProposePlan => Entry::new(
                "Propose a plan…",
                "Looks for the days to turn and water that best suit what you want; nothing changes until you use it.",
            )
            .key(Key::R),
            Self::UsePlan => Entry::new(
                "Use this plan",
                "Replaces turnings and waterings of the plan by these; one undo takes it back.",
            )
            .only_if(facts.plan_found),
            Self::LeavePlan => Entry::new(
                "Leave it",
                "Leaves the plan as it is and stops looking (Esc).",
            ),
            Self::AskWrong => Entry::new(
                "What is wrong?",
                "Asks what you notice, then says why and what to do about it.",
            )
            .key(Key::H),
            Self::LeaveWrong => Entry::new("Close", "Closes this sheet; ticks and answers stay (Esc)."),
            Self::TakeCure(_) => Entry::new(
                "Put into the recipe",
                "Changes the recipe as this cure says; one undo takes it back.",
            ),
            Self::KeepRough => Entry::new(
                "Keep as a recipe",
                "Goes on with these answers as a recipe; unsaved changes of the open one are asked about first.",
            ),
            Self::ImportReadings => Entry::new(
                "Import logger file…",
                "Shows how a logger's file is understood; nothing is taken until you say so.",
            )
            .key(Key::I)
            .only_if(!facts.dialog_open),
            Self::ImportFile(path) => Entry::new(
                path.display().to_string(),
                "Shows how this logger's file is understood.",
            ),
            Self::TakeReadings => Entry::new(
                logger::take(facts.readings),
                "Puts these readings into the diary; one undo takes them back.",
            )
            .only_if(facts.readings > 0),
            Self::LeaveImport => Entry::new("Close", "Closes this sheet; nothing is taken (Esc)."),
            Self::OpenDrawer => Entry::new(
                "Materials…",
                "Opens the drawer of all materials, with values and sources.",
            )
            .key(Key::L),
            Self::ShowMaterial(_) => Entry::new(
                "About this material…",
                "Shows this material's values, sources and questions.",
            ),
            Self::CloseDrawer => Entry::new("Close the drawer", "Closes the drawer (Esc)."),
            Self::StartForm(kind) => Entry::new(
                format!("{}…", kind.heading()),
                match kind {
                    FormKind::Copy => {
                        "Makes a material of your own from this one, every value to be changed."
                    }
                    FormKind::Report => {
                        "Makes a material of your own from a laboratory's figures."
                    }
                    FormKind::Bucket => {
                        "Makes a material of your own with a bucket, a scale and an oven."
                    }
                },
            ),
            Self::CloseForm => Entry::new(
                "Cancel the form",
                "Leaves the form; nothing is added (Esc).",
            ),
            Self::TakeMaterial(_) => Entry::new(
                "Add to my materials",
                "Adds it to the materials of this recipe.",
            ),
            Self::KeepMaterial(_) => Entry::new(
                "Keep for every recipe",
                "Keeps it in your library, for other recipes too.",
            ),
            Self::DropMaterial(_) => Entry::new(
                "Take out of this recipe",
                "Takes it out of this recipe; undo brings it back.",
            ),
            Self::ToggleDetails(_) => Entry::new(
                "State",
                "Shows or folds how wilted, packed or chopped it is.",
            ),
            Self::AsListed(_) => Entry::new(
                "As in the catalogue",
                "Resets wilting, packing and chopping.",
            ),
            Self::AddMaterial(id) => Entry::new(id, "Adds this material to the mix."),
            Self::AddToPlan(_, id) => {
                Entry::new(id, "Lets the plan add a bucket of this material.")
            }
            Self::TellUnread(_) => Entry::new("Typed amount", "Says why it cannot be read."),
            Self::Remove(_) => Entry::new("Remove", "Takes this ingredient out of the mix."),
            Self::SetMeasure(_, measure) => Entry::new(
                amount::several(measure),
                "Gives the amount in another measure; the amount itself stays the same.",
            ),
            Self::Follow(_) => Entry::new(
                "Do this",
                "Changes the mix as this sentence proposes; undo takes it back.",
            ),
            Self::Balance => Entry::new(
                "Balance the mix",
                "Finds the smallest change that brings every gauge into its band; nothing changes until you use it.",
            )
            .key(Key::E),
            Self::FillBin => Entry::new(
                "Fill the bin",
                "Fills the bin with more of what is there; nothing changes until you use it.",
            )
            .only_if(facts.has_room),
            Self::TryWay(_) => Entry::new("Show", "Shows what this option would do."),
            Self::TakeBalance => Entry::new(
                "Use this mix",
                "Changes the mix as shown; one undo takes it back.",
            ),
            Self::LeaveBalance => Entry::new("Leave it", "Leaves the mix as it is (Esc)."),
            Self::AddBucket(side) => {
                let (green, brown) = &facts.buckets;
                let green_side = *side == Side::Green;
                let (name, key) = if green_side { (green, Key::G) } else { (brown, Key::B) };
                let size = amount::holds(&Measure::Bucket, facts.units);
                Entry::new(
                    format!("+1 bucket {name}"),
                    format!("Adds one garden bucket ({size}) of it to the mix."),
                )
                .key(key)
                .only_if(!name.is_empty())
            }
            Self::ChooseBucket(_, id) => {
                Entry::new(id, "Chooses what the button adds a bucket of.")
            }
            Self::Class(action) => action.entry(facts),
            Self::Diary(action) => action.entry(),
            Self::Year(action) => action.entry(),
            Self::Recipe(action) => action.entry(),
            Self::ToggleMotion => Entry::new(
                "Less motion",
                "Needles jump to their place instead of moving there.",
            ),
            Self::ToggleFullScreen => Entry::new(
                "Full screen",
                "Fills the whole screen; in the Class view the menus go too.",
            )
            .bare(Key::F11),
            Self::Show(view) => match view {
                View::Mix => Entry::new("Mix", "Shows ingredients, gauges and the heat plot.")
                    .key(Key::Num1),
                View::Heap => Entry::new("Heap", "Shows place, plan and the inside of the heap.")
                    .key(Key::Num2),
                View::Diary => Entry::new(
                    "Diary",
                    "Shows what was measured and done, over what was expected.",
                )
                .key(Key::Num3),
                View::Seasons => Entry::new(
                    "Seasons",
                    "Shows the recipes you have kept, by time of year.",
                )
                .key(Key::Num4),
                View::Results => Entry::new(
                    "Results",
                    "Shows what to expect of the heap, where the compost goes, and safety notes.",
                )
                .key(Key::Num5),
                View::Class => Entry::new(
                    "Class",
                    "Shows large type and few controls for a class; trials and lessons.",
                )
                .key(Key::Num6),
            },
            Self::SetUnits(UnitSystem::Metric) => {
                Entry::new("Metric", "Shows litres, kilograms and degrees Celsius.").shift(Key::M)
            }
            Self::SetUnits(UnitSystem::UsCustomary) => {
                Entry::new("US", "Shows gallons, pounds and degrees Fahrenheit.").shift(Key::U)
            }
            Self::SetTheme(ThemeChoice::System) => Entry::new(
                "As the desktop",
                "Follows the desktop's light or dark setting.",
            ),
            Self::SetTheme(ThemeChoice::Light) => {
                Entry::new("Light", "Uses light colours.").shift(Key::L)
            }
            Self::SetTheme(ThemeChoice::Dark) => {
                Entry::new("Dark", "Uses dark colours.").shift(Key::D)
            }
            Self::SetTheme(ThemeChoice::Contrast) => Entry::new(
                "High contrast",
                "Uses black on white with strong outlines.",
            ),
            Self::ToggleNotes => Entry::new(
                "Notes",
                "Shows or folds the notes kept with this recipe.",
            )
            .key(Key::T),
            Self::ToggleNotices => {
                Entry::new("Notices", "Shows or hides all notifications.").shift(Key::N)
            }
            Self::ShowKeys => Entry::new("Keys…", "Shows every key and what it does.")
                .key(Key::Questionmark)
                .or_key(Key::Slash),
            Self::ShowAbout => Entry::new(
                "About Heapwright…",
                "Shows the version, the licences and what has changed.",
            ),
            Self::LeaveHelp => Entry::new("Close", "Closes this sheet (Esc)."),
            Self::Reply(Reply::Yes) => Entry::new("Yes", "Goes ahead."),
            Self::Reply(Reply::No) => Entry::new("No", "Goes ahead this way instead."),
            Self::Reply(Reply::Cancel) => {
                Entry::new("Cancel", "Leaves everything as it is (Esc).")
            }
            Self::UsePath(path) => Entry::new(
                path.display().to_string(),
                "Continues with the path typed here (Enter).",
            ),
            Self::ClosePathField => Entry::new(
                "Cancel",
                "Closes this field without doing anything (Esc).",
            ),
            Self::TypePathInstead => Entry::new(
                "Type the path instead",
                "Stops waiting for the desktop's file dialog and shows a field for the path.",
            ),
        }
    }
}
