namespace DecayAtlas.Atlas.Noted;

/// <summary>Whether an answer rests on noted records too, as the tables of answers say it.</summary>
public static class NotedUse
{
    public const string All = "all", Without = "without-noted",
        Meaning = "all, or without-noted: the same without the noted burials, where there are any.";
}
