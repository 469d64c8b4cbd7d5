//! What every file type needs: the struct, and the way from and to the model, field by field.

/// A struct of the file and its conversions: `field ["how to tell that it is absent"]: Type = model field`.
///
/// A field with the bracket may be left out of the file; one without it is required.
macro_rules! record {
    ($(#[$doc:meta])* $name:ident = $model:path {
        $($field:ident $([$absent:literal])? : $ty:ty = $of:ident),* $(,)?
    }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub(crate) struct $name {
            $($(#[serde(default, skip_serializing_if = $absent)])? $field: $ty,)*
        }

        impl $crate::format::v1::value::FileOf<$model> for $name {
            fn of(model: &$model) -> Self {
                let $model { $($of),* } = model;
                Self { $($field: $crate::format::v1::value::FileOf::of($of)),* }
            }
            fn into_model(self) -> $model {
                $model { $($of: $crate::format::v1::value::FileOf::into_model(self.$field)),* }
            }
        }
    };
}

/// An enum of plain words, the same in file and model.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident = $model:path { $($word:ident),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
        pub(crate) enum $name { $($word),* }

        impl $crate::format::v1::value::FileOf<$model> for $name {
            fn of(model: &$model) -> Self {
                use $model as Model;
                match model { $(Model::$word => Self::$word),* }
            }
            fn into_model(self) -> $model {
                use $model as Model;
                match self { $(Self::$word => Model::$word),* }
            }
        }
    };
}

pub(super) use {record, words};
