namespace DecayAtlas.Contributions.Layout.Blocks;

/// <summary>What a person said of a layout, which counts more than what would be found.</summary>
/// <param name="Sheet">The one sheet to read.</param>
/// <param name="HeaderRow">1-based row of the names of columns, the last of them where there are several.</param>
/// <param name="Separator">Of a file of text.</param>
/// <param name="Answers">By the id of a question of <see cref="TidyTable.Readings"/>.</param>
internal sealed record LayoutWishes(string? Sheet, int? HeaderRow, char? Separator, IReadOnlyDictionary<string, string> Answers)
{
    public static LayoutWishes None { get; } = new(null, null, null, new Dictionary<string, string>());

    /// <summary>What was answered, where it is one of the alternatives; otherwise the first of them.</summary>
    public string Choice(string question, params ReadOnlySpan<string> alternatives) =>
        Answers.TryGetValue(question, out string? answer) && alternatives.Contains(answer) ? answer : alternatives[0];
}
