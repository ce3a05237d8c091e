namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>Finds out how masses are written and what they are masses of, one after another of what can go wrong with them.</summary>
internal sealed class MassQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    /// <returns>How masses are read.</returns>
    public MassReading Make()
    {
        CorrectedMasses corrected = new(table);
        corrected.Make();
        MassesBeside beside = new(table);
        beside.Ask();
        MassReading masses = new(table);
        ShareReading shares = new(table);
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is { } initial)
                table.Draft.BagsOf(role)["mass_initial_g"] = masses.Source(initial, isFirst: true);
            AskedColumn? final = table.Of(ColumnChoice.Final, role), loss = table.Of(ColumnChoice.Loss, role),
                remaining = table.Of(ColumnChoice.Remaining, role);
            if (final is { Filled: > 0 } || (final is not null && loss is null && remaining is null))
            {
                table.Draft.BagsOf(role)["mass_final_g"] = masses.Source(final, isFirst: false);
                foreach (AskedColumn computed in new[] { loss, remaining }.OfType<AskedColumn>())
                    _ask.Tell("computed-left-out", 1, computed.Seen(), computed.Name);
            }
            else if ((loss ?? remaining) is { } share)
            {
                table.Draft.BagsOf(role)["mass_final_g"] = shares.Source(share, isLoss: share == loss);
            }
        }
        new SlippedMasses(table, masses).Make();
        new NetMasses(table, masses).Make();
        new BasisQuestions(table, masses).Make();
        new MeanMasses(table, masses).Make();
        WeighingErrors.Write(table, masses);
        corrected.Write();
        beside.TakeOff();
        NothingLast();
        return masses;
    }

    private void NothingLast()
    {
        bool isAny = table.Roles.Any(role => new[] { ColumnChoice.Final, ColumnChoice.Loss, ColumnChoice.Remaining }
            .Any(field => table.Of(field, role) is { Filled: > 0 }));
        // whether a column holds them is asked first
        if (isAny || _ask.Open.Any(question => question.Id == "masses"
            || question.Id.StartsWith("column:" + ColumnChoice.Final, StringComparison.Ordinal)))
        {
            return;
        }
        string? answer = _ask.Choose(Interview.Columns, "no-final", [_ask.Option("still-buried", "still-buried"),
            _ask.Option("forgotten", "forgotten")],
            null, []);
        if (answer == "forgotten")
            table.IsHopeless = "no-final";
    }
}
