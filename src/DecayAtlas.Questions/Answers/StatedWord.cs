namespace DecayAtlas.Questions.Answers;

/// <summary>A word that sites state of themselves: a class of the place that no grid gives.</summary>
public sealed record StatedWord(string Name, string Title, Func<ReleasedSite, string?> Of)
{
    public static IReadOnlyList<StatedWord> All { get; } =
    [
        new("ecosystem", "Ecosystem, as stated", s => s.Ecosystem), new("land_use", "Land use, as stated", s => s.LandUse),
        new("management", "Management, as stated", s => s.Management),
    ];

    public static StatedWord? Find(string name) => All.FirstOrDefault(w => w.Name == name);
}
