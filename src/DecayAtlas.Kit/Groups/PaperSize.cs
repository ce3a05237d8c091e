namespace DecayAtlas.Kit.Groups;

/// <summary>What a kit is printed on.</summary>
/// <param name="Name">As people call it, and as style sheets do.</param>
/// <param name="Code">Of workbooks (ECMA-376, 18.3.1.63).</param>
/// <param name="LabelRows">Labels that stand below one another on a page.</param>
public sealed record PaperSize(string Name, uint Code, int LabelRows)
{
    public static PaperSize A4 { get; } = new("A4", 9, 6);

    public static PaperSize Letter { get; } = new("Letter", 1, 6);

    /// <summary>The names as they are written on the command line.</summary>
    public static IReadOnlyList<string> Known { get; } = [.. new[] { A4, Letter }.Select(paper => paper.Name.ToLowerInvariant())];

    public static PaperSize? Find(string name) =>
        new[] { A4, Letter }.FirstOrDefault(paper => paper.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
}
