namespace DecayAtlas.Contributions.Understanding;

/// <summary>Words for what is done to the ground, in four languages, each with the word that campaigns have for it.</summary>
internal static class TreatmentWords
{
    private static readonly Dictionary<string, string> Meanings = Made(
        ("control", "control kontrolle testigo temoin unbehandelt untreated sin_tratar non_traite kontroll"),
        ("compost", "compost kompost composta compostaje kompostiert"), ("mulch", "mulch mulched gemulcht paillis paille acolchado mulche"),
        ("mown", "mown gemaht fauche fauchee segado segada cut"), ("unmown",
            "unmown ungemaht non_fauche non_fauchee sin_segar no_segado uncut"),
        ("grazed", "grazed beweidet pature paturee pastoreado pastoreada"),
        ("fenced", "fenced eingezaunt cloture cloturee cercado cercada umzaunt"),
        ("irrigated", "irrigated bewassert irrigue irriguee regado regada"),
            ("drained", "drained entwassert draine drainee drenado drenada"),
        ("fertilised", "fertilised fertilized gedungt fertilise fertilisee fertilizado abonado abonada"),
        ("tilled", "tilled gepflugt laboure labouree labrado labrada"), ("warmed", "warmed erwarmt rechauffe calentado"),
        ("burned", "burned burnt gebrannt brule brulee quemado quemada"), ("shaded", "shaded beschattet ombrage sombreado"),
        ("limed", "limed gekalkt chaule encalado"));

    /// <summary>The campaign's word for a sender's; null where none is known.</summary>
    /// <param name="known">The treatments of the campaign; empty where they are not known.</param>
    public static string? Of(string word, IReadOnlyList<string> known)
    {
        string folded = Folded(word);
        if (known.FirstOrDefault(treatment => Folded(treatment) == folded) is { } same)
            return same;
        return Meanings.TryGetValue(folded, out string? meaning) && (known.Count == 0 || known.Contains(meaning)) ? meaning : null;
    }

    private static string Folded(string word) => Identifier.Folded(word.Trim()).Replace(' ', '_').Replace('-', '_');

    private static Dictionary<string, string> Made(params (string Meaning, string Words)[] entries) =>
        entries.SelectMany(entry => entry.Words.Split(' ').Select(word => (word, entry.Meaning))).ToDictionary();
}
