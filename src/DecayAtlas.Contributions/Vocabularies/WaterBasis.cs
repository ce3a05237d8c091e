namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>What the water in per cent is a share of, where the name of its column says it: of the dry litter or of the moist.</summary>
internal static class WaterBasis
{
    private static readonly string[] Dry =
        ["trockenmasse", "trockengewicht", "trockensubstanz", "trockenstreu", "dry", "seca", "seco", "seche", "sec", "tm", "ts", "tg"];

    private static readonly string[] Moist =
    [
        "frischmasse", "frischgewicht", "feuchtmasse", "feuchtgewicht", "fresh", "moist", "wet", "fresca", "fresco", "humeda", "humedo",
        "fraiche", "frais", "humide", "fm", "fg",
    ];

    private static readonly string[] PerCent = ["%", "percent", "prozent", "pct", "porcentaje", "pourcentage"];

    private static readonly char[] Signs = [' ', ',', '.', '(', ')', ';', ':', '[', ']', '/', '-', '_'];

    /// <summary>True of the dry litter, false of the moist; null where no such word stands behind the per cent.</summary>
    public static bool? IsOfDry(string name)
    {
        string[] words = Identifier.Folded(name.Replace("%", " % ", StringComparison.Ordinal)).Split(Signs,
            StringSplitOptions.RemoveEmptyEntries);
        string[] behind = [.. words.SkipWhile(word => !PerCent.Contains(word))];
        (bool isDry, bool isMoist) = (behind.Any(Dry.Contains), behind.Any(Moist.Contains));
        return isDry == isMoist ? null : isDry;
    }
}
