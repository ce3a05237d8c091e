using System.Globalization;

namespace DecayAtlas.Decomposition;

/// <summary>What kept a routine from giving a number.</summary>
public enum UnansweredReason
{
    /// <summary>Fewer values than the method needs.</summary>
    TooFewValues,

    /// <summary>A value is not a finite number, or outside what the method takes.</summary>
    ValueOutOfDomain,

    /// <summary>All values are equal, so that their scatter says nothing.</summary>
    NoScatter,

    /// <summary>All values belong to one group: there is nothing to compare.</summary>
    OneGroupOnly,

    /// <summary>The groups can't be told from their sites, or a covariate repeats another: the design has no unique solution.</summary>
    SingularDesign,

    /// <summary>The litter lost nothing over the series: no rate can be fitted.</summary>
    NoDecay,

    /// <summary>The search ended without meeting its criterion of convergence.</summary>
    NotConverged,
}

/// <summary>The statement given instead of a number.</summary>
/// <param name="Reason">The kind of obstacle.</param>
/// <param name="Sentence">One plain sentence: what was found, and what was expected.</param>
public sealed record Unanswered(UnansweredReason Reason, string Sentence)
{
    internal static Unanswered TooFew(string what, int found, int needed) => new(
        UnansweredReason.TooFewValues,
        string.Create(CultureInfo.InvariantCulture, $"There are {found} {what}; at least {needed} are needed."));

    internal static Unanswered NoScatter(string what) => new(
        UnansweredReason.NoScatter, $"All {what} are equal, so that their scatter says nothing about uncertainty.");

    internal static Unanswered NotFinite(string what) => new(
        UnansweredReason.ValueOutOfDomain, $"Among the {what} is a value that is not a finite number; missing values must be left out.");
}
