using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>Columns of masses that are no litter: an empty bag, a clip, a tray, what the balance was off by. Whether they are in a mass
/// that was weighed only the sender knows.</summary>
internal sealed class MassesBeside(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    /// <summary>Before masses are read: an empty bag is known by then.</summary>
    public void Ask()
    {
        foreach (AskedColumn column in Candidates())
        {
            string? answer = AnswerOf(column);
            if (answer is not null)
                table.Offered.Add(column.Ordinal);
            if (answer == "bag")
                table.Chosen[(ColumnChoice.Tare, table.IsBurialRow ? table.RoleOf(column) : null)] = column;
        }
    }

    /// <summary>After masses are read.</summary>
    public void TakeOff()
    {
        HashSet<string> used = table.Draft.UsedColumns();
        foreach (AskedColumn column in Candidates().Where(column => !used.Contains(column.Name.Trim())))
        {
            string? answer = AnswerOf(column);
            foreach ((string value, string field, string mass) in new[]
            {
                ("first", "mass_initial_g", ColumnChoice.Initial), ("last", "mass_final_g", ColumnChoice.Final),
            })
            {
                if (answer != "both" && answer != value)
                    continue;
                LitterRole? own = table.IsBurialRow ? table.RoleOf(column) : null;
                foreach (LitterRole? role in table.Roles.Where(role => own is null || role == own))
                    TakeOff(column, role, field, mass);
            }
        }
    }

    private void TakeOff(AskedColumn column, LitterRole? role, string field, string mass)
    {
        // only one thing can be taken off a mass, and off a weighed one
        if (table.Draft.BagsOf(role)[field] is not JsonObject source || source["less"] is not null
            || table.Of(mass, role) is not { Filled: > 0 })
        {
            table.IsHopeless = "two-bases";
            return;
        }
        JsonObject less = MeasuredShare.Source(column);
        if (column.Sense.Unit != "g")
            less["unit"] = column.Sense.Unit;
        less["or"] = new JsonArray(MappingDraft.Value("0"));
        source["less"] = less;
    }

    private string? AnswerOf(AskedColumn column) => _ask.Choose(Interview.Meaning, "mass-beside:" + column.Name,
        [_ask.Option("bag", "beside-bag"), _ask.Option("last", "beside-last"), _ask.Option("first", "beside-first"),
            _ask.Option("both", "beside-both"), _ask.Option("none", "beside-none")],
        BagOrLitter.NamedIn(column.Name) == "gross" && table.Of(ColumnChoice.Tare) is null ? "bag" : null, column.Seen(), column.Name);

    // what is lighter than what it was weighed with, in a unit of mass, and is nothing else
    private IEnumerable<AskedColumn> Candidates() => table.Columns.Where(column => column is { IsNumbers: true, IsHidden: false }
        && Units.InGrams(column.Sense.Unit) is not null
        && (!table.Chosen.ContainsValue(column) || _ask.AnswerTo("mass-beside:" + column.Name) == "bag")
        && !table.Masses.Contains(column.Ordinal) && !IsOfferedElsewhere(column) && !table.ReadByRow.Contains(column.Ordinal)
        && !StateWords.IsOfGround(column.Name)
        && !column.Sense.HasAny(Concept.Loss, Concept.Change, Concept.Remaining, Concept.First, Concept.Last, Concept.Mean, Concept.Sd,
            Concept.Old, Concept.Corrected, Concept.Moisture, Concept.Ash, Concept.Tare)
        // what the balance was off by is no error of a mean
        && (!column.Sense.Has(Concept.Spread) || column.Sense.Has(Concept.Balance)) && IsLighter(column));

    private bool IsOfferedElsewhere(AskedColumn column) => table.Offered.Contains(column.Ordinal)
        && _ask.AnswerTo("mass-beside:" + column.Name) is null;

    private bool IsLighter(AskedColumn column)
    {
        NumberForm form = NumberForm.Of(column)[0];
        double most = table.Roles.Select(role => table.Of(ColumnChoice.Initial, role)).OfType<AskedColumn>().Select(first =>
            NumberForm.Of(first)[0] is var own ? Enumerable.Range(0, first.Cells.Count).Max(row =>
                MassReading.GramsIn(first, row, own, first.Sense.Unit ?? "g")) ?? 0 : 0).DefaultIfEmpty(0).Max();
        return Enumerable.Range(0, column.Cells.Count).All(row => MassReading.GramsIn(column, row, form, column.Sense.Unit!) is not { } mass
            || mass < most);
    }
}
