namespace DecayAtlas.Questions.Answers;

/// <summary>A word that sites state of themselves: a class of the place that no grid gives.</summary>
public sealed record StatedWord(string Name, string Title, Func<ReleasedSite, string?> Of)
{
    public static IReadOnlyList<StatedWord> All { get; } =
    [
        new("ecosystem", "Stated ecosystem", s => s.Ecosystem), new("land_use", "Stated land use", s => s.LandUse),
        new("management", "Stated management", s => s.Management),
    ];

    public static StatedWord? Find(string name) => All.FirstOrDefault(w => w.Name == name);
}
