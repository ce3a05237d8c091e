using System.Text.RegularExpressions;

namespace DecayAtlas.Serving.Features;

/// <summary>A property that features may be asked by, and what its values look like.</summary>
/// <param name="property">Name of the property and of the parameter.</param>
/// <param name="choices">The values there can be; empty where any text of the form will do.</param>
/// <param name="pattern">Form of the text, as a regular expression over all of it.</param>
/// <param name="form">The same in words, for who sent another.</param>
internal sealed class PropertyFilter(
    string property, IReadOnlyList<string> choices, string? pattern = null, string form = "", int longestText = 64)
{
    private readonly Regex? _pattern =
        pattern is null ? null : new Regex(pattern, RegexOptions.CultureInvariant | RegexOptions.NonBacktracking);

    public string Property => property;

    public IReadOnlyList<string> Choices => choices;

    public static PropertyFilter OneOf(string property, params IReadOnlyList<string> choices) => new(property, choices);

    public static PropertyFilter Id(string property) =>
        new(property, [], @"^[A-Za-z0-9][A-Za-z0-9._:/-]*\z", "a letter or digit and then letters, digits and . _ : / -", 200);

    public static PropertyFilter Text(string property) => new(property, [], @"^[^\p{Cc}]+\z", "without control characters");

    /// <summary>A filter with the words that the schema of contributions has for a column of its table of sites; nobody asks by a sender's
    /// own.</summary>
    public static PropertyFilter OfSites(string property)
    {
        FieldSchema field = SchemaCatalogue.Sites.Fields.Single(f => f.Name == property);
        return new(property, field.Choices, field.PatternText is { } text ? $@"^(?:{text})\z" : null, "as " + field.Example);
    }

    /// <exception cref="QueryFaultException">The value can't be one of the property.</exception>
    public void Check(string value)
    {
        bool canBe = choices.Count > 0 ? choices.Contains(value)
            : value.Length > 0 && value.Length <= longestText && _pattern?.IsMatch(value) != false;
        if (canBe)
            return;
        string expected = choices.Count > 0 ? "one of " + string.Join(", ", choices) : $"a text of 1 to {longestText} characters, {form}";
        throw new QueryFaultException(property, value, expected);
    }
}
