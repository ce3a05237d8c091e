using System.Text.RegularExpressions;

namespace DecayAtlas.Serving.Features;

/// <summary>A property that features may be asked by, and what its values look like.</summary>
/// <param name="Property">Name of the property and of the parameter.</param>
/// <param name="Choices">The values there can be; empty where any text of the form will do.</param>
/// <param name="Pattern">Form of the text, as a regular expression over all of it.</param>
/// <param name="Form">The same in words, for who sent another.</param>
/// <param name="LongestText">Characters at most.</param>
internal sealed record PropertyFilter(string Property, IReadOnlyList<string> Choices, string? Pattern, string Form, int LongestText)
{
    private readonly Regex? _pattern = Pattern is null ? null
        : new Regex(Pattern, RegexOptions.CultureInvariant | RegexOptions.NonBacktracking);

    public static PropertyFilter OneOf(string property, params IReadOnlyList<string> choices) => new(property, choices, null, "", 64);

    public static PropertyFilter Id(string property) =>
        new(property, [], @"^[A-Za-z0-9][A-Za-z0-9._:/-]*\z", "a letter or digit and then letters, digits and . _ : / -", 200);

    public static PropertyFilter Text(string property) => new(property, [], @"^[^\p{Cc}]+\z", "without control characters", 64);

    /// <summary>A filter with the values that the schema of contributions allows in a column of its table of sites.</summary>
    public static PropertyFilter OfSites(string property)
    {
        FieldSchema field = SchemaCatalogue.Sites.Fields.Single(f => f.Name == property);
        return new(property, field.AllowedValues, field.PatternText is { } pattern ? $@"^(?:{pattern})\z" : null, "as " + field.Example,
            64);
    }

    /// <exception cref="QueryFaultException">The value can't be one of the property.</exception>
    public void Check(string value)
    {
        if (Choices.Count > 0 ? Choices.Contains(value)
            : value.Length > 0 && value.Length <= LongestText && _pattern?.IsMatch(value) != false)
        {
            return;
        }

        string expected = Choices.Count > 0 ? "one of " + string.Join(", ", Choices) : $"a text of 1 to {LongestText} characters, {Form}";
        throw new QueryFaultException($"{Property} is {QueryFaultException.Quoted(value)}; expected {expected}.");
    }
}
