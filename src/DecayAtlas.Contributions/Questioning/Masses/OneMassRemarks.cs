using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>What a remark says of one of the two masses of a bag.</summary>
/// <param name="Column">Where it stands.</param>
/// <param name="Basis">gross or litter.</param>
internal sealed record OneMassRemark(AskedColumn Column, string Text, bool IsFirst, string Basis)
{
    /// <summary>The litter of the bag in whose cell it stands, in a row of two bags.</summary>
    public LitterRole? Role { get; init; }
}

/// <summary>Remarks that say of one mass of a bag that it was weighed with the bag or without it: the other mass keeps what is said of all.
/// Where the two differ, the empty bag is taken off the one that holds it, and both are those of the litter.</summary>
internal sealed class OneMassRemarks(AskedTable table, MassReading masses)
{
    private readonly EmptyBags _empty = new(table);

    public void Make(IReadOnlyList<OneMassRemark> remarks)
    {
        foreach (LitterRole? role in table.Roles)
        {
            WeighedMass[] weighed = [.. WeighedMass.Of(table, masses).Where(mass => mass.Role == role)];
            JsonObject? otherwise = (table.Draft.BagsOf(role)["mass_basis"] ?? table.Draft.Bags["mass_basis"]) as JsonObject;
            OneMassRemark[] ofBags = [.. remarks.Where(remark => remark.Role is null || remark.Role == role)];
            foreach (AskedColumn column in ofBags.Select(remark => remark.Column).Distinct())
                Take(role, column, [.. ofBags.Where(remark => remark.Column == column)], weighed, otherwise);
        }
        foreach (IGrouping<AskedColumn, OneMassRemark> said in remarks.GroupBy(remark => remark.Column))
        {
            string[] texts = [.. said.Select(remark => remark.Text)];
            table.Ask.Tell("basis-of-one", said.Key.Cells.Count(cell => texts.Contains(AskedColumn.TextOf(cell))),
                said.Key.Seen(row => texts.Contains(said.Key.TextAt(row))), said.Key.Name);
        }
    }

    private void Take(LitterRole? role, AskedColumn column, OneMassRemark[] remarks, WeighedMass[] weighed, JsonObject? otherwise) =>
        Take(role, column, weighed, otherwise, row =>
        {
            OneMassRemark[] own = [.. remarks.Where(remark => remark.Text == column.TextAt(row) && table.MaySpeakOf(role, remark.Text))];
            if (own.Length == 0 || BasisOf(otherwise, row) is not { } all)
                return null;
            string BasisOfMass(bool isFirst) => own.FirstOrDefault(remark => remark.IsFirst == isFirst)?.Basis ?? all;
            return (BasisOfMass(true), BasisOfMass(false));
        });

    /// <summary>Of some rows both masses, each gross or litter; the others stay as the mapping has them.</summary>
    /// <param name="column">Under whose name the rows are written.</param>
    public void Take(LitterRole? role, AskedColumn column, Func<int, (string First, string Last)?> said) => Take(role, column,
        [.. WeighedMass.Of(table, masses).Where(mass => mass.Role == role)],
        (table.Draft.BagsOf(role)["mass_basis"] ?? table.Draft.Bags["mass_basis"]) as JsonObject, said);

    private void Take(LitterRole? role, AskedColumn column, WeighedMass[] weighed, JsonObject? otherwise,
        Func<int, (string First, string Last)?> said)
    {
        JsonObject basis = Listed(column);
        for (int row = 0; row < table.Rows.Count; row++)
        {
            if (said(row) is not var (first, last) || BasisOf(otherwise, row) is not { } all || (first == last && first == all))
                continue;
            Set(basis, row, first == last ? first : "litter");
            // a share is made of the mass before, and holds what that holds
            if (first != last && weighed.FirstOrDefault(mass => mass.IsFirst == (first == "gross")) is { } gross)
                TakeOff(gross, column, row);
        }
        if (basis["rows"] is null)
            return;
        basis["or"] = new JsonArray((table.Draft.BagsOf(role)["mass_basis"] ?? table.Draft.Bags["mass_basis"])!.DeepClone());
        table.Draft.BagsOf(role)["mass_basis"] = basis;
    }

    private void TakeOff(WeighedMass mass, AskedColumn column, int row)
    {
        if (_empty.OfRow(mass, row) is not var (grams, uncertainty))
        {
            table.IsHopeless = "two-bases";
            return;
        }
        Set(Chained(mass.Source, "less", column, MappingDraft.Value("0")), row, MassSource.Text(grams));
        Set(Chained(table.Draft.BagsOf(mass.Role), mass.UncertaintyField, column, null), row, MassSource.Text(uncertainty));
    }

    // a list of rows under a column before what was there
    private static JsonObject Chained(JsonObject section, string field, AskedColumn column, JsonObject? last)
    {
        if (section[field] is JsonObject known && known["rows"] is not null && (string?)known["column"] == column.Name)
            return known;
        JsonObject source = Listed(column);
        if ((section[field]?.DeepClone() ?? last) is { } otherwise)
            source["or"] = new JsonArray(otherwise);
        section[field] = source;
        return source;
    }

    private static JsonObject Listed(AskedColumn column)
    {
        JsonObject source = MappingDraft.Column(column);
        source["form"] = "listed";
        return source;
    }

    private void Set(JsonObject source, int row, string meaning) => MappingDraft.SetRow(source, table.RowNames[row],
        table.Columns.First(column => column.Name == (string?)source["column"]).TextAt(row), meaning);

    // what the mapping so far says of a row
    private string? BasisOf(JsonObject? source, int row)
    {
        if (source is null)
            return null;
        if ((string?)source["value"] is { } all)
            return all;
        string text = table.Columns.FirstOrDefault(column => column.Name == (string?)source["column"])?.TextAt(row) ?? "";
        return (string?)source["rows"]?[table.RowNames[row]]?[text] ?? (string?)source["words"]?[text]
            ?? (source["or"] as JsonArray ?? []).Select(other => BasisOf(other as JsonObject, row)).OfType<string>().FirstOrDefault();
    }
}
