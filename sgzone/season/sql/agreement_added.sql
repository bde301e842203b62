-- One more agreement, under the next number.
INSERT INTO agreements
SELECT
    coalesce(max(agreement), 0) + 1,
    $player, $day, $text, $part, $measure, $from_ft, $to_ft, $target, $due, NULL
FROM agreements
