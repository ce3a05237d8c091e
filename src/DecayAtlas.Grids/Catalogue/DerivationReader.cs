namespace DecayAtlas.Grids.Catalogue;

internal sealed class DerivationReader(EntryReader entry, YamlDocument document, int index)
{
    public Derivation Read(IReadOnlyDictionary<string, CatalogueEntry> known, TimeSpanned over, bool isClass)
    {
        System.Text.Json.Nodes.JsonNode grid = document.Root["grids"]![index]!;
        string formula = (string)grid["derived"]!, unit = (string)grid["unit"]!;
        DerivationRule rule = DerivationRule.All.First(r => r.Name == formula);
        if (rule.IsClass != isClass)
        {
            throw entry.Wrong("kind", $"{entry.Name} is {formula}, which gives "
                + $"{(rule.IsClass ? "a class; write kind: class" : "a number; write kind: continuous")}.");
        }

        if (!rule.Units.Contains(unit))
            throw entry.Wrong("unit", $"{entry.Name} is {formula}, which comes out in {Words(rule.Units)}, and its unit is \"{unit}\".");

        if (over == TimeSpanned.Exposure && !rule.MayFollowExposure)
        {
            if (grid["over"] is not null)
                throw entry.Wrong("over", $"{entry.Name} is {formula}, which is of a whole year; write over: year or leave it out.");

            over = TimeSpanned.Year;
        }

        foreach (string role in entry.InputNames.Keys.Where(role => rule.Inputs.All(i => i.Role != role)))
        {
            throw entry.Wrong($"inputs/{role}", $"{entry.Name} has an input {role}, which {formula} does not use; it takes "
                + $"{string.Join(", ", rule.Inputs.Select(i => i.Role))}.");
        }

        return new Derivation(rule, rule.Inputs.ToDictionary(i => i.Role, i => Input(rule, i, known, over)), over);
    }

    private CatalogueEntry Input(DerivationRule rule, DerivationInput asked, IReadOnlyDictionary<string, CatalogueEntry> known,
        TimeSpanned over)
    {
        if (!entry.InputNames.TryGetValue(asked.Role, out string? name))
        {
            throw entry.Wrong("derived",
                $"{entry.Name} is {rule.Name} and lacks its input {asked.Role}, {asked.Words}; add it under inputs.");
        }

        CatalogueEntry found = known[name];
        string takes = $"{entry.Name} takes {name} as {asked.Role}";
        string? wrong = !asked.Accepts(found) ? $"{takes}, and {asked.Words} was expected."
            : !asked.Units.Contains(found.Unit)
                ? $"{takes}, whose unit is \"{found.Unit}\", and {Words(asked.Units)} was expected; set its scale, offset and unit."
            : asked.Units.Contains("mm") && found.Making is MonthlyClimatology { Statistic: not TimeStatistic.Sum }
                ? $"{takes}, which has statistic mean, and totals of months (statistic: sum) were expected."
            : found.Making is DatedSeries && over == TimeSpanned.Year
                ? $"{entry.Name} is over a year and takes {name}, a dated series, which has no typical year; write over: exposure, "
                    + "or take twelve months."
            : null;
        return wrong is null ? found : throw entry.Wrong($"inputs/{asked.Role}", wrong);
    }

    private static string Words(IReadOnlyList<string> units) => units[0].Length == 0 ? "no unit (\"\")" : units[0];
}
