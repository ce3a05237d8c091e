namespace DecayAtlas.Prediction.Cards;

/// <summary>The kind of a place (ecosystem), for the interval of its kind: as somebody states it, or as the model's own covariate has
/// it.</summary>
public sealed class KindsOfPlaces
{
    /// <summary>What sites state it under, and what a covariate of it is called.</summary>
    public const string Name = "ecosystem";

    private readonly PredictionInterval _interval;
    private readonly KindQuantile?[] _ofClass = [];

    internal KindsOfPlaces(IReadOnlyList<CardCovariate> covariates, PredictionInterval interval)
    {
        _interval = interval;
        for (int c = 0; c < covariates.Count; c++)
        {
            if (covariates[c] is not { Name: Name, Classes: { } classes })
                continue;
            Covariate = c;
            // rare kinds that are joined are no kind
            _ofClass = [.. classes.Names.Select(n =>
                classes.Joined.Count > 0 && n == CovariateClasses.Other ? null : interval.OwnOf(n))];
        }
    }

    /// <summary>Which covariate of the model is the kind; missing where none is.</summary>
    public int? Covariate { get; }

    /// <summary>What the kind of a place has of its own; missing where that is not known, or has none.</summary>
    /// <param name="stated">Counts before the covariate.</param>
    /// <param name="ofClass">The class of the place among those of <see cref="Covariate"/>; not finite where there is none.</param>
    internal KindQuantile? Of(string? stated, double ofClass) => !string.IsNullOrWhiteSpace(stated) ? _interval.OwnOf(stated)
        : ofClass >= 0 && ofClass < _ofClass.Length ? _ofClass[(int)ofClass] : null;
}
