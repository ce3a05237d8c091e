using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Remarks and lines beside the table by which something is not as it stands there: whether it counts all the same only the
/// sender knows.</summary>
/// <param name="masses">Null in a table of results, whose rows have no bags.</param>
internal sealed class FaultRemarks(AskedTable table, IWeighings? masses)
{
    private sealed record Remark(LitterRole? Role, SaidOfBags Said, string Text, SaidFault Fault, int[] Rows);

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        foreach (IGrouping<SaidFault, Remark> alike in Remarks().GroupBy(remark => remark.Fault).OrderBy(alike => alike.Key))
            Make(alike.Key, [.. alike]);
        Lines();
    }

    /// <summary>Remarks in a table of means or of k and S: the whole row is what they are of.</summary>
    public void OfResults()
    {
        HashSet<int> left = [];
        (string Text, SaidFault Fault, int[] Rows)[] remarks =
        [
            .. from said in new StateQuestions(table).SaidOf(null)
               from text in said.Texts
               let fault = FaultWords.In(text)
               where fault is not null
               select (text, fault.Value, Enumerable.Range(0, table.Rows.Count).Where(row => said.TextAt(row) == text).ToArray()),
        ];
        foreach (IGrouping<SaidFault, (string Text, SaidFault Fault, int[] Rows)> alike in remarks.GroupBy(remark => remark.Fault)
            .OrderBy(alike => alike.Key))
        {
            int[] rows = [.. alike.SelectMany(remark => remark.Rows).Distinct().Order()];
            if (Ask(alike.Key, rows, alike.Select(remark => remark.Text), "fault-leave-out-rows", []) == "leave-out")
                left.UnionWith(rows);
        }
        table.LeaveOut(left.Contains);
        Lines();
    }

    // those beside a mass that would count
    private IEnumerable<Remark> Remarks() =>
        from role in table.Roles
        where table.LastOf(role) is not null
        from said in new StateQuestions(table).SaidOf(role)
        from text in said.Texts
        where table.MaySpeakOf(role, text)
        let fault = FaultWords.In(text)
        // that it was not dried is asked about as such
        where fault is not null && !DryingWords.IsUndried(text)
        let rows = Enumerable.Range(0, table.Rows.Count).Where(row => said.TextAt(row) == text
            && table.LastOf(role)!.TextAt(row).Any(char.IsAsciiDigit)).ToArray()
        where rows.Length > 0
        select new Remark(role, said, text, fault.Value, rows);

    private void Make(SaidFault fault, Remark[] remarks)
    {
        int[] rows = [.. remarks.SelectMany(remark => remark.Rows).Distinct().Order()];
        SwappedBags? swapped = fault == SaidFault.Swapped && masses is not null ? new SwappedBags(table, masses) : null;
        bool canSwap = swapped?.CanSwapBack(rows) == true;
        string? answer = Ask(fault, rows, remarks.Select(remark => remark.Text), "fault-leave-out", canSwap
            ? [_ask.Option("swap", "fault-swap"), _ask.Option("swap-last", "fault-swap-last")] : []);
        if (answer is "swap" or "swap-last")
            swapped!.SwapBack(rows, answer == "swap-last");
        foreach (IGrouping<(LitterRole? Role, SaidOfBags Said), Remark> own in remarks.GroupBy(remark => (remark.Role, remark.Said)))
        {
            if (answer is "as-written" or "swap" or "swap-last")
                Settle(own.Key.Role, own.Key.Said.Source(own.Select(remark => (remark.Text, ""))));
            else if (answer == "leave-out")
                LeaveOut(own.Key.Role, own.SelectMany(remark => remark.Rows));
        }
    }

    private string? Ask(SaidFault fault, int[] rows, IEnumerable<string> texts, string leaveOut, Choice[] more)
    {
        string? answer = _ask.Choose(Interview.Meaning, "remark-of-fault:" + fault.ToString().ToLowerInvariant(),
            [
                _ask.Option("as-written", "fault-as-written"), .. more, _ask.Option("leave-out", leaveOut),
                _ask.Option("mend", "fault-mend"),
            ],
            null, [.. rows.Select(table.SeenRow)],
            string.Join("; ", texts.Select(text => ReceivedText.OneLine(ReceivedText.Masked(text))).Distinct().Take(3)));
        if (answer == "mend")
            table.IsHopeless = "remark-of-fault";
        return answer;
    }

    // listed as saying nothing, so that a check does not tell of it
    private void Settle(LitterRole? role, JsonObject said)
    {
        JsonObject bags = table.Draft.BagsOf(role);
        if (bags["condition"] is not JsonObject before)
        {
            bags["condition"] = said;
            return;
        }
        JsonArray or = before["or"] as JsonArray ?? [];
        before["or"] = or;
        or.Add(said);
    }

    private void LeaveOut(LitterRole? role, IEnumerable<int> rows)
    {
        if (table.Draft.BagsOf(role)["mass_final_g"] is not JsonObject final)
            return;
        foreach (int row in rows)
            MappingDraft.SetRow(final, table.RowNames[row], table.LastOf(role)!.TextAt(row), "");
    }

    // a legend and a rule say nothing of what was done
    private void Lines()
    {
        TidyCell[] lines =
        [
            .. table.AllBeside.Where(cell => FaultWords.In(cell.Value.Text) is not (null or SaidFault.Doubt or SaidFault.Void)
                && DryingWords.UndriedIn(cell.Value.Text) is null
                && !cell.Value.Text.Contains('=', StringComparison.Ordinal) && !FaultWords.IsRule(cell.Value.Text)
                && !CellRemarks.IsOfStar(table, cell.Value.Text)),
        ];
        if (lines.Length > 0 && _ask.Choose(Interview.Meaning, "line-of-fault",
            [_ask.Option("as-written", "line-as-written"), _ask.Option("mend", "fault-mend")], null,
            [.. lines.Take(6).Select(cell => AskedColumn.Shown(cell, null))],
            ReceivedText.OneLine(ReceivedText.Masked(lines[0].Value.Text))) == "mend")
        {
            table.IsHopeless = "remark-of-fault";
        }
    }
}
