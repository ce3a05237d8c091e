using System.Globalization;

namespace DecayAtlas.Decomposition;

/// <summary>Stated in place of a number.</summary>
/// <param name="Sentence">What was found, and what was expected.</param>
public sealed record Unanswered(string Sentence)
{
    internal static Unanswered TooFew(string what, int found, int needed) =>
        new(string.Create(CultureInfo.InvariantCulture, $"There are {found} {what}; at least {needed} are needed."));

    internal static Unanswered NoScatter(string what) =>
        new($"All {what} are equal, so that their scatter says nothing about uncertainty.");

    internal static Unanswered NotFinite(string what) =>
        new($"Among the {what} is a value that is not a finite number; missing values must be left out.");
}
