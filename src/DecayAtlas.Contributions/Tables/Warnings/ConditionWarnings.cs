namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>What the table says of how bags came up, and what is made of it: the mass of a lost bag counts for nothing, any other as it
/// stands. Told, and no ground to refuse.</summary>
internal static class ConditionWarnings
{
    /// <param name="isSettled">Whether the sender said of a remark that it means no litter weighed wet.</param>
    /// <param name="counts">Whether the sender said of a remark that what it speaks of counts as written.</param>
    /// <param name="isRead">Whether something is read of a remark.</param>
    public static IReadOnlyList<Finding> Of(IReadOnlyList<BagRow> bags, IReadOnlyList<BurialRows> burials, string file, string? sheet,
        Predicate<string> isSettled, Predicate<string> counts, Predicate<string> isRead, Func<Finding, string?, Finding> at)
    {
        FindingList warnings = new();
        ILookup<string, BagRow> ofBurial = bags.ToLookup(bag => bag.BurialId);
        foreach (BagRow bag in bags)
        {
            if (bag is { Condition: BagCondition.Lost, MassFinalGrams: { } mass })
            {
                Add(FindingCode.LostYetWeighed, bag, "condition", Invariant($"{mass} g"),
                    "no last mass beside a lost bag",
                    "the mass does not count: empty it if the bag was lost, or correct the condition");
            }
            if (bag is { Condition: BagCondition.Torn or BagCondition.Roots, MassFinalGrams: not null })
            {
                Add(FindingCode.DamagedBag, bag, "condition", bag.Condition == BagCondition.Torn ? "torn" : "roots", "a whole bag",
                    "nothing, if it was so: k is computed and may not count, since litter may have fallen out or roots grown in");
            }
            if (bag.Notes is not { } notes || bag.MassFinalGrams is null)
                continue;
            if (StateWords.IsNotToUse(notes))
            {
                Add(FindingCode.RemarkNotToUse, bag, "notes", FindingText.Quote(notes), "bags that count",
                    "the bag counts as it stands: empty its last mass if it shall not count");
            }
            else if (bag.Condition is null or BagCondition.Intact && StateWords.DamageIn(notes) is not null
                && !IsOfOther(bag, notes))
            {
                Add(FindingCode.RemarkOfDamage, bag, "notes", FindingText.Quote(notes), "torn or roots as the condition of the bag",
                    "the bag counts as a whole one: say torn or roots as its condition if it was so, and its k is marked as doubtful");
            }
            else if (!isSettled(notes) && notes.Split("; ").Any(part => !isSettled(part) && StateWords.IsWeighedWetIn(part)))
            {
                Add(FindingCode.RemarkOfWet, bag, "notes", FindingText.Quote(notes), "litter that was dried before it was weighed",
                    "dry the litter and weigh it again, or send its moisture: water passes for litter, and k is less sure or too low");
            }
            else if (!counts(notes) && notes.Split("; ").Any(part => !counts(part) && FaultWords.In(part) is not null))
            {
                Add(FindingCode.RemarkOfFault, bag, "notes", FindingText.Quote(notes), "cells that are as the remark says",
                    "the bag counts as it stands: correct its cells, or empty its last mass if it shall not count");
            }
            else if (string.Join("; ", notes.Split("; ").Where(part => !isRead(part) && !isSettled(part) && MayMatter(part)))
                is { Length: > 0 } unread)
            {
                Add(FindingCode.RemarkUnread, bag, "notes", FindingText.Quote(unread), "remarks that say nothing against a weighing",
                    "the bag counts: empty its last mass if it shall not");
            }
        }
        Swapped(burials, Add);
        return warnings.Close(file);

        // a remark of a row of two bags that was taken for the other one
        bool IsOfOther(BagRow bag, string notes) => ofBurial[bag.BurialId].Any(other => other.Row == bag.Row
            && other.Role != bag.Role && other.Notes == notes && other.Condition is BagCondition.Torn or BagCondition.Roots);

        void Add(string code, BagRow bag, string column, string found, string expected, string mend) =>
            warnings.Add(at(new Finding(code, file, bag.Row, column, found, expected, mend) { Sheet = sheet },
                bag.Role == LitterRole.Fast ? "fast" : "slow"));
    }

    // what says nothing of a bag and is known is passed over, and signs alone, but for a question mark
    private static bool MayMatter(string part) => StateWords.DamageIn(part) is null
        && StateWords.ConditionOf(part) is null or "lost" && !HarmlessWords.AreAllIn(part)
        && part.Any(sign => char.IsLetter(sign) || sign == '?');

    // the slow bag lost more than the fast one, and not since the weights of one of them are swapped or one is unlike its lot, which is
    // told itself: told at what is left of the fast litter
    private static void Swapped(IReadOnlyList<BurialRows> burials, Action<string, BagRow, string, string, string, string> add)
    {
        foreach (BurialRows burial in burials)
        {
            if (burial.Weighed is { LostMoreOfSlow: true } weighed && !burial.Bags.Zip(burial.Lots, (bag, lot) =>
                SwappedWeighings.Are(bag, lot) || UnlikeMass.Of(bag, lot) is not null).Any(are => are))
            {
                add(FindingCode.LittersSwapped, burial.Bags.First(bag => bag.Role == LitterRole.Fast), "mass_final_g",
                    Invariant($"more left of the fast litter ({100 * weighed.Fast.Value!.Fraction:0} %) than of the slow one ")
                    + Invariant($"({100 * weighed.Slow.Value!.Fraction:0} %)"),
                    "less left of the fast litter than of the slow one",
                    "see whether the two bags of the hole are swapped; what is written counts");
            }
        }
    }
}
