-- Records as layout 1 kept them.
insert into note values (1, 'cloth', 'cotton-sateen', 'the red bolt sheds colour', 1760000000, 1760000000);
insert into note values (2, 'piece', 'cowl', 'a hand longer for the third witch', 1760000100, 1760000100);
insert into favourite values (1, 'cloth', 'wool-felt', 1760000200);
insert into change values (1, 1760000100, 'note on piece cowl added', '[{"t":"note","id":2,"after":{"id":2,"kind":"piece","subject":"cowl","text":"a hand longer for the third witch","created":1760000100,"changed":1760000100}}]');
insert into change values (2, 1760000300, 'note on cloth cotton-sateen added', '[{"t":"note","id":1,"after":{"id":1,"kind":"cloth","subject":"cotton-sateen","text":"the red bolt sheds colour","created":1760000000,"changed":1760000000}}]');
